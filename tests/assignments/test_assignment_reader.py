"""An assignment is a short file written by hand; all that is wrong in it is told at once."""

import os
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.assignments.assignment import HIGHEST_LEVEL, LONGEST_NOTE, AssignedLines, AssignedTune, AssignmentError
from game.assignments.assignment_reader import MAX_BYTES, assignment_from, read_assignment
from game.coach.stages import Stage
from game.lines.levels import LEVELS
from game.neck.neck_map import standard_map
from game.paths import shipped
from game.text.catalogue import tell
from game.tunes.library.library import shipped_entries
from tests.refusing import refusal


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


def test_a_pipe_is_not_waited_for(tmp_path):
    """It may be dropped on the window like any file."""
    os.mkfifo(tmp_path / "week.toml")
    with refusal(AssignmentError, r"^week\.toml is a pipe, no file"):
        read_assignment(tmp_path / "week.toml")
    with refusal(AssignmentError, "null (byte|character)"):
        read_assignment(Path("a\0.toml"))


def test_every_level_of_lines_can_be_set():
    assert len(LEVELS) == HIGHEST_LEVEL


def test_a_note_is_read_as_far_as_a_sheet_has_room():
    note = " ".join(["slowly"] * 60)
    assert assignment_from(f'title = "x"\nnote = "{note}"\n[[line]]\nlevel = 1\n').note == note
    assert len(assignment_from(f'title = "x"\nnote = "{note * 9}"\n[[line]]\nlevel = 1\n').note) == LONGEST_NOTE


def test_what_is_no_text_is_told_as_toml_writes_it():
    with refusal(AssignmentError, r"not 2026-12-07T15:00:00; .*tempo .* not true"):
        assignment_from('title = "x"\ndue = 2026-12-07T15:00:00\n[[line]]\nlevel = 1\ntempo = true\n')
