"""An assignment is a short file written by hand; all that is wrong in it is told at once."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.assignments.assignment import AssignedLines, AssignedTune, Assignment, AssignmentError
from game.assignments.assignment_reader import MAX_BYTES, assignment_from, read_assignment
from game.assignments.assignment_writer import assignment_text
from game.coach.stages import Stage
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.neck.tuning import TUNINGS
from game.paths import shipped
from game.text.catalogue import tell
from game.text.clean_text import cleaned
from game.tunes.library.library import shipped_entries
from tests.refusing import refusal

texts = st.text(max_size=40).map(cleaned)
tempi = st.none() | st.integers(1, 400)
stages = st.lists(st.sampled_from(Stage), unique=True).map(tuple)
bars = st.none() | st.tuples(st.integers(0, 500), st.integers(500, 1000))
tunes = st.builds(
    AssignedTune, title=texts.filter(bool), file_name=st.just(""), bars=bars, stages=stages, target_bpm=tempi
) | st.builds(
    AssignedTune, title=st.just(""), file_name=st.just("waltz.musicxml"), bars=bars, stages=stages, target_bpm=tempi
)
lines = st.builds(AssignedLines, level=st.integers(1, 8), a_day=st.integers(1, 20), stages=stages, target_bpm=tempi)
maps = st.builds(
    standard_map,
    position=st.integers(1, 12),
    tuning=st.sampled_from(list(TUNINGS.values())),
    frets=st.integers(20, 24),
    reading=st.sampled_from(Reading),
)
assignments = st.builds(
    Assignment,
    title=texts.filter(bool),
    note=texts,
    due=st.none() | st.dates(),
    neck_map=st.none() | maps,
    tunes=st.lists(tunes, min_size=1, max_size=3).map(tuple),
    lines=st.lists(lines, max_size=3).map(tuple),
)


@given(assignments)
def test_what_was_written_is_read_back(assignment):
    assert assignment_from(assignment_text(assignment)) == assignment


def test_the_example_can_be_read_and_asks_for_a_tune_that_we_ship():
    read = read_assignment(shipped("content", "assignments", "first-week.toml"))
    assert read.due == date(2027, 1, 15)
    assert read.neck_map == standard_map(position=5)
    assert read.tunes == (
        AssignedTune(title="Ode to Joy", bars=(1, 4), stages=(Stage.PLACES, Stage.RHYTHM, Stage.TIME), target_bpm=72),
    )
    assert read.lines == (AssignedLines(level=1, a_day=2, stages=(Stage.SIGHT,)),)
    assert read.tunes[0].title in {entry.title for entry in shipped_entries()}


def test_all_faults_are_told_at_once_each_with_its_place():
    text = """
due = "Friday"
colour = "blue"
[map]
position = 40
tuning = "banjo"
[[tune]]
title = "Ode to Joy"
tempo = 0
bars = [4, 1]
[[tune]]
file = "../secret.musicxml"
stages = ["dancing"]
[[line]]
level = true
"""
    with pytest.raises(AssignmentError) as told:
        assignment_from(text)
    said = tell(told.value.message)
    for fault in (
        "no title", "due is a date", "'colour' is not known", "map: position", "map: no tuning", "tune 1: tempo",
        "tune 1: bars", "tune 2: file", "tune 2: stages", "line 1: level",
    ):  # fmt: skip
        assert fault in said
    assert said.count(";") == 9
    assert "\n" not in said


def test_what_is_no_toml_is_told_with_its_line():
    with refusal(AssignmentError, "line 2"):
        assignment_from('title = "x"\nnote = oh\n')


@pytest.mark.parametrize(
    "text", ["[" * 5000, "x = " + "[" * 5000, "x = " + "9" * 5000, "tune = 3\nline = [1]", "map = 1"]
)
def test_a_hostile_text_ends_in_one_sentence(text):
    with pytest.raises(AssignmentError) as told:
        assignment_from(text)
    assert "\n" not in tell(told.value.message)


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(tmp_path_factory, raw):
    path = tmp_path_factory.getbasetemp() / "any.toml"
    path.write_bytes(raw)
    with pytest.raises(AssignmentError):
        read_assignment(path)


def test_a_file_too_long_or_not_there_is_refused(tmp_path):
    (tmp_path / "long.toml").write_bytes(b"#" * (MAX_BYTES + 1))
    for name, why in (("long.toml", "longer than"), ("none.toml", "cannot be read")):
        with refusal(AssignmentError, why):
            read_assignment(tmp_path / name)


def test_hostile_names_are_cleaned():
    read = assignment_from('title = "a\\u202eb\\u0007"\n[[line]]\nlevel = 1\n')
    assert read.title == "ab"
