"""Swing ratios: what is expected, and what a player did."""

from fractions import Fraction
from itertools import pairwise

import pytest

from game.judging.swing import default_swing, off_beat_share
from game.judging.timed import judge_timed, swing_of
from game.judging.tolerance import timed_grid
from game.judging.verdicts import Verdict
from tests.judging.made_takes import expected_line, moved, perfect_take

EIGHTHS = expected_line([60, 62, 64, 65, 67, 65, 64, 62, 60], [Fraction(1, 2)] * 9)
NOTES = [note.note for note in EIGHTHS]


def test_ratios_fall_towards_straight_as_the_tempo_rises() -> None:
    """Friberg & Sundström 2002: towards 1:1 in fast tempi, soloists below 2:1 in medium ones."""
    ratios = [default_swing(tempo) for tempo in (60, 120, 160, 200, 280)]
    assert all(before >= after for before, after in pairwise(ratios))
    assert all(1 <= ratio < 2 for ratio in ratios)
    assert (ratios[1], ratios[-1]) == (1.6, 1.2)


def test_the_off_beat_of_two_to_one_is_the_last_of_a_triplet() -> None:
    assert off_beat_share(2) == pytest.approx(2 / 3)


@pytest.mark.parametrize("ratio", [1.0, 1.4, 1.8, 2.2])
def test_the_players_own_ratio_is_reported_and_every_note_is_in_time(ratio: float) -> None:
    grid = timed_grid(NOTES, tempo_bpm=100, swing=1.6)
    own = timed_grid(NOTES, tempo_bpm=100, swing=ratio)
    judgement = judge_timed(EIGHTHS, moved(perfect_take(EIGHTHS, own), -0.01), grid)
    assert swing_of(judgement, grid) == pytest.approx(ratio)
    assert {verdict.verdict for verdict in judgement.verdicts} == {Verdict.CLEAN}


def test_a_straight_tune_has_no_swing_ratio() -> None:
    grid = timed_grid(NOTES, tempo_bpm=100)
    assert swing_of(judge_timed(EIGHTHS, perfect_take(EIGHTHS, grid), grid), grid) is None
