"""A take meets those bars of a passage that it came to."""

import pytest

from game.practice_log.queries.bars_met import shared_bars, times_met
from game.practice_log.rows.bar_contents import Stretch

A, B, C, D = (letter * 32 for letter in "abcd")
TUNE, FIRST, SECOND = Stretch(0, (A, B, C, D)), Stretch(0, (A, B)), Stretch(2, (C, D))
ELSEWHERE = Stretch(8, (A, B))


@pytest.mark.parametrize(
    ("asked", "played", "reached", "met"),
    [
        (TUNE, TUNE, 4, [0, 1, 2, 3]),
        (TUNE, TUNE, 1, [0]),
        (TUNE, SECOND, 2, [2, 3]),
        (TUNE, SECOND, 1, [2]),
        (SECOND, TUNE, 4, [0, 1]),
        (SECOND, TUNE, 3, [0]),
        (SECOND, TUNE, 2, []),
        (FIRST, ELSEWHERE, 1, [0]),
        (ELSEWHERE, FIRST, 2, [0, 1]),
        (ELSEWHERE, FIRST, 0, []),
    ],
)
def test_a_take_meets_the_bars_it_shares_up_to_where_it_came(asked, played, reached, met):
    assert list(shared_bars(asked, played).met(reached)) == met


def test_nothing_is_met_where_nothing_is_shared():
    assert shared_bars(FIRST, SECOND) is None
    assert shared_bars(TUNE, ELSEWHERE) is None


def test_the_bar_that_was_met_most_often_counts():
    takes = [(shared_bars(TUNE, FIRST), {2: 3, 1: 1}), (shared_bars(TUNE, TUNE), {4: 2, 3: 1})]
    assert times_met(4, takes) == 7
    assert times_met(4, takes[1:]) == 3
    assert times_met(4, []) == times_met(0, []) == 0
