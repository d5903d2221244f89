"""Tunes that were never played, as the plan compares them."""

import pytest

from game.player.unseen_tunes import comparable_level


@pytest.mark.parametrize(("difficulty", "low", "high"), [(0.5, 0.5, 1), (1.12, 0.9, 1.2), (2.0, 3.5, 4.5), (5, 8, 9)])
def test_a_tune_is_compared_with_the_lines_of_a_level(difficulty, low, high):
    assert low <= comparable_level(difficulty) <= high
