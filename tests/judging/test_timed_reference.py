"""Timed judging against an independent count, `mir_eval`."""

from dataclasses import replace
from random import Random

import pytest

from game.judging.timed import judge_timed
from game.judging.tolerance import timed_grid
from tests.judging.by_mir_eval import counted
from tests.judging.made_takes import Errors, made_take, random_line


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("bias_s", [-0.06, 0.0, 0.06])
@pytest.mark.parametrize("window_s", [0.05, 0.1])
def test_hits_and_pairs_are_those_of_mir_eval_where_no_second_candidate_lies_in_a_window(
    seed: int, bias_s: float, window_s: float
) -> None:
    rng = Random(seed)
    line = random_line(150, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=130, window_ms=window_s * 1000)
    made = made_take(line, grid, Errors(bias_s=bias_s, spread_s=0.04), rng).played
    played = [replace(note, place=None) for note in made]
    found = counted(line, grid, played, judge_timed(line, played, grid).verdicts, window_s)
    assert found.plain > 0.9 * len(line)
    assert found.differing == ()
    assert found.nearest > 0.3 * len(line)
    assert found.unpaired == ()
    if found.plain == len(line):
        assert found.hits[0] == found.hits[1]
