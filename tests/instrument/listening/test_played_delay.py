"""What plucks along with a click tell of a delay, and when they tell nothing."""

from random import Random

import pytest

from game.instrument.listening.played_delay import FEWEST, enough_played, played_delay


def plucks(count, *, late_s=0.05, spread_s=0.008, seed=1):
    chance = Random(seed)
    return [chance.gauss(late_s, spread_s) for _ in range(count)]


def test_it_is_the_middle_of_them_whatever_a_slip_does():
    found = played_delay([*plucks(16), 0.3, -0.2])
    assert found.late_s == pytest.approx(0.05, abs=0.006)


def test_few_plucks_tell_nothing():
    assert played_delay(plucks(FEWEST - 1)).late_s is None
    assert played_delay([]).plucks == 0


def test_plucks_that_scatter_tell_nothing_but_by_how_much():
    found = played_delay(plucks(24, spread_s=0.09))
    assert found.late_s is None
    assert found.spread_s > 0.03


def test_a_steady_player_is_done_sooner_than_an_unsteady_one():
    assert enough_played(plucks(FEWEST, spread_s=0.004))
    assert not enough_played(plucks(FEWEST, spread_s=0.025))
