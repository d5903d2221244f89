"""From a judgement to what the coach hears of it."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.judged_take import find_times_s, judged_notes, take_result
from game.coach.stages import Stage
from game.judging.expected import expected_notes
from game.judging.summary import summary_of
from game.judging.verdicts import EventKind, Judgement, NoteVerdict, TakeEvent, Verdict
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import Pitch
from game.music.score import Bar, Note, NoteValue, Reading
from game.music.written import written_notes
from game.neck.neck_map import standard_map
from tests.coach.coach_takes import PASSAGE

QUARTER = NoteValue(base=Fraction(1))


def asked_for(letters):
    """Quarter notes C to B in the octave of middle C on the page; "c" is far below the map."""
    notes = tuple(
        Note(
            onset=Fraction(index),
            length=Fraction(1),
            value=QUARTER,
            pitch=Pitch(letter.upper(), 0, 4 if letter.isupper() else 2),
        )
        for index, letter in enumerate(letters)
    )
    bar = Bar(number="1", meter=Meter(), key=Key(0), length=Fraction(len(letters)), events=notes)
    return expected_notes(written_notes((bar,), Reading.GUITAR), standard_map())


def judged(*verdicts, events=(), find_ms=600.0):
    return Judgement(
        verdicts=tuple(
            NoteVerdict(n=n, verdict=verdict, time_to_find_ms=find_ms) for n, verdict in enumerate(verdicts, 1)
        ),
        events=tuple(TakeEvent(kind=kind, n=1, time_ms=0.0) for kind in events),
    )


def result(judgement, letters):
    notes = judged_notes(judgement.verdicts, asked_for(letters))
    events = [event.kind for event in judgement.events]
    return take_result(notes, events, passage=PASSAGE, day=1, stage=Stage.TIME, tempo_bpm=72)


def test_clean_early_and_late_count_as_clean_and_the_rest_does_not():
    all_kinds = (
        *(Verdict.CLEAN, Verdict.EARLY, Verdict.LATE, Verdict.WRONG_PITCH),
        *(Verdict.OTHER_PLACE, Verdict.MISSED, Verdict.HINTED, Verdict.UNREAD),
    )
    taken = result(judged(*all_kinds), "CDEFGABC")
    assert (taken.homes, taken.clean, taken.off_time, taken.unread) == (7, 3, 2, 1)
    assert taken.wrong_notes == {4, 6}
    assert taken.other_place_notes == {5}
    assert taken.right == 4


@given(st.lists(st.sampled_from(Verdict), min_size=1, max_size=12))
def test_it_counts_what_every_other_page_counts(verdicts):
    letters = ("CDEFGABc" * 2)[: len(verdicts)]
    judgement, expected = judged(*verdicts), asked_for(letters)
    taken, told = result(judgement, letters), summary_of(judgement, expected)
    clean = [verdict for verdict, note in zip(verdicts, expected, strict=True) if note.home is not None]
    assert (taken.homes, taken.clean) == (told.asked, told.right_notes)
    assert taken.in_time == clean.count(Verdict.CLEAN)


def test_a_note_without_a_home_is_left_out():
    taken = result(judged(Verdict.CLEAN, Verdict.MISSED), "Cc")
    assert (taken.homes, taken.clean, taken.wrong_notes) == (1, 1, frozenset())


def test_stops_and_restarts_are_told_and_a_repaired_note_is_no_stop():
    events = (EventKind.STOP, EventKind.REPAIR, EventKind.RESTART, EventKind.STOP)
    taken = result(judged(Verdict.CLEAN, events=events), "C")
    assert (taken.stops, taken.restarts, taken.kept_going) == (2, 1, False)
    assert result(judged(Verdict.CLEAN, events=(EventKind.REPAIR,)), "C").kept_going


def test_repeated_notes_pauses_and_helped_notes_say_nothing_about_finding():
    judgement = judged(Verdict.CLEAN, Verdict.CLEAN, Verdict.HINTED, Verdict.CLEAN)
    paused = replace(judgement.verdicts[3], time_to_find_ms=30_000.0)
    verdicts = (*judgement.verdicts[:3], paused)
    assert find_times_s(judged_notes(verdicts, asked_for("CCDE"))) == (0.6,)


def test_a_judgement_of_other_notes_is_refused():
    with pytest.raises(ValueError, match="longer than argument"):
        result(judged(Verdict.CLEAN), "CD")
