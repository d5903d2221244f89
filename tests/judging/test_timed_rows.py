"""The rows of a timed take are its notes, in the words of the follower."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.judging.expected import ExpectedNote
from game.judging.timed_rows import take_rows, written_rows
from game.judging.timed_verdict import DEFAULT_RULES, TimedRules
from game.judging.tolerance import TimedGrid, bar_spans, timed_grid
from game.neck.tuning import Place
from tests.judging.made_takes import MAP, expected_line, perfect_take, played_note
from tests.judging.players.material import material_of
from tests.made import passage

PITCHES = [60, 62, 64, 65, 67, 65, 64, 62, 60]
LINE = expected_line(PITCHES, [Fraction(1, 2)] * 9)
GRID = timed_grid([note.note for note in LINE], tempo_bpm=100)
PLAYED = perfect_take(LINE, GRID)
RHYTHM = TimedRules(pitch_counts=False)


def test_what_is_written_is_due_by_the_grid_and_nothing_was_played():
    rows = written_rows(LINE, GRID, DEFAULT_RULES)
    assert rows.due_s == GRID.onsets_s
    assert rows.asked == PITCHES
    assert rows.homes == [MAP.home_of(pitch).place for pitch in PITCHES]
    assert (rows.times_s, rows.sounding, rows.places) == ([], [], [])
    assert rows.beat_s == pytest.approx(0.6)


def test_what_was_played_stands_in_the_same_order():
    elsewhere = replace(PLAYED[3], sounding=70, place=Place(1, 6))
    rows = take_rows(LINE, [*PLAYED[:3], elsewhere, replace(PLAYED[4], place=None)], GRID, DEFAULT_RULES)
    assert rows.times_s == list(GRID.onsets_s[:5])
    assert rows.sounding == [60, 62, 64, 70, 67]
    assert rows.places == [*(note.place for note in PLAYED[:3]), Place(1, 6), None]


def test_the_written_side_is_the_same_whatever_was_played():
    whole = take_rows(LINE, PLAYED, GRID, DEFAULT_RULES)
    assert replace(whole, times_s=[], sounding=[], places=[]) == written_rows(LINE, GRID, DEFAULT_RULES)


@pytest.mark.parametrize("pitches", [PITCHES, PITCHES[::-1]])
def test_where_only_the_rhythm_counts_all_pitches_are_alike_and_places_are_not_told(pitches: list[int]):
    rows = take_rows(LINE, [played_note(pitch, 0.3 * at) for at, pitch in enumerate(pitches)], GRID, RHYTHM)
    assert set(rows.asked) == set(rows.sounding) == {0}
    assert rows.homes is rows.places is None
    assert rows.by_pitch == {0: list(range(len(LINE)))}


def test_a_note_beyond_the_map_has_no_home():
    homeless = (replace(LINE[0], home=None), *LINE[1:])
    rows = written_rows(homeless, GRID, DEFAULT_RULES)
    assert rows.homes is not None
    assert [home is None for home in rows.homes] == [True] + [False] * 8


def begins_bar(notes: tuple[ExpectedNote, ...], grid: TimedGrid) -> list[bool]:
    return list(written_rows(notes, grid, DEFAULT_RULES).begins_bar)


def test_the_first_note_of_each_bar_begins_it():
    music = music_of("C4 q, D4 q, E4 h", "F4 w", "G4 q, A4 q, G4 q, F4 q")
    assert begins_bar(music.line, music.grid) == [True, False, False, True, True, False, False, False]


def test_a_bar_whose_beginning_is_a_rest_is_begun_by_its_first_note():
    music = music_of("C4 q, D4 q, E4 h", "r h, F4 q, G4 q")
    assert begins_bar(music.line, music.grid) == [True, False, False, True, False]


def music_of(*bars: str):
    music = passage(*bars)
    return material_of("", music.notes, bar_spans(music.bars), 100)


def test_of_nothing_written_there_are_empty_rows():
    rows = take_rows((), PLAYED[:2], timed_grid((), tempo_bpm=100), DEFAULT_RULES)
    assert (list(rows.due_s), list(rows.asked), list(rows.begins_bar)) == ([], [], [])
    assert len(rows.times_s) == 2
