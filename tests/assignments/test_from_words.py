"""An assignment out of the words of a command line."""

from datetime import date

import pytest

from game.assignments.assignment import AssignedLines, AssignedTune, AssignmentError
from game.assignments.from_words import AssignmentInWords, PartInWords, assignment_from_words
from game.coach.stages import Stage
from game.neck.neck_map import standard_map
from game.text.catalogue import tell
from tests.refusing import refusal


def said(*parts: PartInWords, **more: object) -> AssignmentInWords:
    return AssignmentInWords(**{"title": "Week 1", "parts": parts, **more})


def tune(words: str, **more: object) -> PartInWords:
    return PartInWords("tune", words, **more)


def line(words: str, **more: object) -> PartInWords:
    return PartInWords("line", words, **more)


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        ("Ode to Joy", AssignedTune(title="Ode to Joy")),
        ("Ode to Joy:3", AssignedTune(title="Ode to Joy", bars=(3, 3))),
        ("Ode to Joy:1-4", AssignedTune(title="Ode to Joy", bars=(1, 4))),
        ("Suite: Air", AssignedTune(title="Suite: Air")),
        ("Suite: Air:0-8", AssignedTune(title="Suite: Air", bars=(0, 8))),
        ("waltz.MusicXML", AssignedTune(file_name="waltz.MusicXML")),
        ("waltz.abc:1-4", AssignedTune(file_name="waltz.abc", bars=(1, 4))),
        ("St. Anne", AssignedTune(title="St. Anne")),
    ],
)
def test_a_tune_is_a_title_or_the_name_of_a_file_with_its_bars(words: str, meant: AssignedTune):
    assert assignment_from_words(said(tune(words))).tunes == (meant,)


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        ("Etude 12:8", AssignedTune(title="Etude 12:8")),
        ("Etude 12:8:2-3", AssignedTune(title="Etude 12:8", bars=(2, 3))),
        ("Etude 12:7", AssignedTune(title="Etude 12", bars=(7, 7))),
    ],
)
def test_a_title_that_is_known_whole_names_no_bars(words: str, meant: AssignedTune):
    titles = {"Etude 12", "Etude 12:8"}
    assert assignment_from_words(said(tune(words)), titles.__contains__).tunes == (meant,)


@pytest.mark.parametrize(("words", "meant"), [("3", AssignedLines(level=3)), ("3:2", AssignedLines(level=3, a_day=2))])
def test_lines_are_a_level_with_how_many_a_day(words: str, meant: AssignedLines):
    assert assignment_from_words(said(line(words))).lines == (meant,)


def test_stages_and_tempo_of_a_part_go_before_those_for_all():
    parts = (tune("Ode to Joy", stages=["time"], tempo="72"), line("1"))
    meant = assignment_from_words(said(*parts, everywhere=PartInWords("", "", stages=["places"], tempo="60")))
    assert (meant.tunes[0].stages, meant.tunes[0].target_bpm) == ((Stage.TIME,), 72)
    assert (meant.lines[0].stages, meant.lines[0].target_bpm) == ((Stage.PLACES,), 60)


def test_the_day_and_the_map_are_read_where_they_are_said():
    words = {"position": "7", "tuning": None, "frets": None, "read": None}
    meant = assignment_from_words(said(line("1"), due="2027-01-15", neck_map=words, note="Slowly"))
    assert (meant.due, meant.note, meant.neck_map) == (date(2027, 1, 15), "Slowly", standard_map(position=7))
    unsaid = dict.fromkeys(words)
    assert assignment_from_words(said(line("1"), neck_map=unsaid)).neck_map is None


def test_all_that_cannot_be_meant_is_told_at_once():
    words = AssignmentInWords(
        title=" ",
        due="Friday",
        neck_map={"position": "fifth"},
        parts=(tune("Ode to Joy:4-1", tempo="fast"), line("nine:many")),
    )
    with pytest.raises(AssignmentError) as told:
        assignment_from_words(words)
    sentence = tell(told.value.message)
    for fault in ("Friday", "map: position", "tune 1: bars", "tune 1: tempo", "line 1: level", "line 1: a_day"):
        assert fault in sentence
    assert sentence.count(";") == 6
    assert "'?'" not in sentence


def test_nothing_set_is_a_fault_of_its_own_and_no_other():
    with refusal(AssignmentError, "^[^;]*$"):
        assignment_from_words(said())
