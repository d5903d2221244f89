"""What following a take takes in."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from game.judging.following.followed import TakeRows
from tests.judging.following.rows import as_written, rows_of

PITCHES = st.lists(st.integers(60, 66), max_size=30)


@given(PITCHES)
def test_the_written_notes_of_each_pitch_are_found_in_their_order(asked: list[int]):
    rows = rows_of(asked, [])
    assert {pitch: [k for k, other in enumerate(asked) if other == pitch] for pitch in asked} == rows.by_pitch


@given(PITCHES)
def test_they_stay_found_when_more_is_played(asked: list[int]):
    """They are not looked for again: a take that is played live gets its rows note by note."""
    rows = rows_of(asked, [])
    again = replace(rows, times_s=[0.0], sounding=[60])
    assert again.by_pitch is rows.by_pitch or not asked
    assert again.by_pitch == rows.by_pitch


def test_where_only_the_rhythm_counts_every_written_note_is_found_under_one_pitch():
    rows = TakeRows(due_s=[0.0, 1.0, 2.0], asked=[0, 0, 0], times_s=[], sounding=[], beat_s=1.0)
    assert rows.by_pitch == {0: [0, 1, 2]}


def test_two_takes_of_one_line_are_alike_however_much_was_played_of_it():
    asked = [60, 62, 60]
    assert rows_of(asked, as_written(asked)).by_pitch == rows_of(asked, []).by_pitch == {60: [0, 2], 62: [1]}
