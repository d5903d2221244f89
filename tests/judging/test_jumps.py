"""Where a player stopped, went back or skipped; single mistakes are no jumps."""

from random import Random

import pytest

from game.judging.alignment_timed import align_timed
from game.judging.jumps import TakeJump, jumps_of
from game.judging.tolerance import timed_grid
from tests.judging.made_takes import Errors, moved, perfect_take, random_line, rows_of, timed_rows

SEEDS = range(3)


def jumps(rows):
    return jumps_of(rows, align_timed(rows, bias_s=0.0, reach_s=0.6), bias_s=0.0, reach_s=0.6)


class Line:
    """A random line of 40 notes at 100 quarter notes a minute, and a perfect take of it."""

    def __init__(self, seed):
        self.notes = random_line(40, Random(seed))
        self.grid = timed_grid([note.note for note in self.notes], tempo_bpm=100)
        self.exact = perfect_take(self.notes, self.grid)

    def jumps(self, *played):
        return jumps(rows_of(self.notes, self.grid, played))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_take_with_single_mistakes_has_none(seed):
    """One note in twenty dropped, added and wrong each."""
    assert jumps(timed_rows(seed, tempo_bpm=120, errors=Errors())) == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_stop_goes_on_at_the_next_note_behind_the_click(seed):
    line = Line(seed)
    found = line.jumps(*line.exact[:20], *moved(line.exact[20:], 2.4))
    assert found == (TakeJump(played=20, left=19, to=20, behind_click_s=pytest.approx(2.4)),)


@pytest.mark.parametrize("seed", SEEDS)
def test_going_back_five_notes_is_one_jump_to_there(seed):
    line = Line(seed)
    found = line.jumps(*line.exact[:20], *moved(line.exact[15:], 3.0))
    assert found == (TakeJump(played=20, left=19, to=15, behind_click_s=pytest.approx(3.0)),)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_skip_brings_the_player_before_the_click(seed):
    line = Line(seed)
    skipped_s = line.grid.onsets_s[26] - line.grid.onsets_s[20]
    found = line.jumps(*line.exact[:20], *moved(line.exact[26:], -skipped_s))
    assert found == (TakeJump(played=20, left=19, to=26, behind_click_s=pytest.approx(-skipped_s)),)


def test_one_stray_note_after_the_end_is_no_jump():
    line = Line(1)
    assert line.jumps(*line.exact, *moved(line.exact[:1], 40.0)) == ()


def test_nothing_played_has_no_jump():
    assert Line(1).jumps() == ()
