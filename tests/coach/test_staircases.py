"""The rival staircases themselves: do they settle where the literature says?"""

from math import exp, log
from random import Random
from statistics import mean

import pytest

from tests.bench.staircases import TakeStaircase, takes_to_come_near, transformed, weighted

SLOPE = 8.0


def right_share(level):
    return 1 / (1 + exp(SLOPE * level))


def player(seed):
    rng = Random(seed)
    return lambda level: rng.random() < right_share(level)


@pytest.mark.parametrize(("downs", "share"), [(2, 0.7071), (3, 0.7937), (4, 0.8409)])
def test_one_up_n_down_settles_at_the_published_share(downs, share):
    """Levitt 1971: 70.71, 79.37 and 84.09 % for two, three and four down."""
    levels = transformed(player(downs), start=-0.5, step=0.01, downs=downs, trials=40_000)
    assert right_share(mean(levels[2000:])) == pytest.approx(share, abs=0.012)


@pytest.mark.parametrize(("share", "weight"), [(0.75, 3.0), (0.85, 5.667), (0.90, 9.0)])
def test_the_weighted_rule_settles_at_its_share_with_the_published_ratio_of_steps(share, weight):
    """Kaernbach 1991: easier over harder step is p / (1 - p): 3, 5.667 and 9."""
    assert share / (1 - share) == pytest.approx(weight, abs=5e-4)
    levels = weighted(player(7), start=-0.5, step=0.004, share=share, trials=40_000)
    assert mean(map(right_share, levels[2000:])) == pytest.approx(share, abs=0.01)


def test_without_mistakes_a_take_staircase_climbs_by_its_step():
    assert TakeStaircase("take", 0.08).change(32, 32) == pytest.approx(log(1.08))
    assert TakeStaircase("take", 0.08).change(28, 32) == pytest.approx(-9 * log(1.08))
    assert TakeStaircase("note mean", 0.08).change(32, 32) == pytest.approx(log(1.08))
    assert TakeStaircase("note", 0.04).change(32, 32) == pytest.approx(32 / 9 * log(1.04))


def test_at_the_target_share_a_staircase_of_notes_stands_still():
    for trial in ("note", "note mean"):
        assert TakeStaircase(trial, 0.04).change(27, 30) == pytest.approx(0, abs=1e-12)


def test_takes_are_counted_until_the_tempo_itself_is_near():
    """From 80 towards 100 in steps of 8 %: 80, 86.4, 93.3, 100.8."""
    by_tempo, by_turns = takes_to_come_near(
        TakeStaircase("take", 0.08), lambda _: 1.0, steady=100, start=80, rng=Random(1), most=50
    )
    assert (by_tempo, by_turns) == (3, 50)
