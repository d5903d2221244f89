"""What is settled about a song before its pitches."""

from dataclasses import replace

from game.lines.spots import Spot
from tests.lines.test_returns import plan_of


def test_the_struck_spots_are_those_that_sound():
    plan = replace(plan_of((), ()), spots=(Spot(0, 12), Spot(12, 12, rest=True), Spot(24, 24)))
    assert plan.struck == (Spot(0, 12), Spot(24, 24))
