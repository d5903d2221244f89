"""The limits of dirt: what rings is faint, and settings of before go on as they were."""

import pytest

from game.instrument.decoding.dirt import NO_LIMITS, USUAL_LIMITS, Limits, may_ring


@pytest.mark.parametrize(
    ("velocity", "loud", "rings"), [(23, 90, True), (24, 120, False), (23, 60, False), (10, 34, True)]
)
def test_what_rings_is_faint_and_far_softer_than_the_pluck(velocity, loud, rings):
    assert may_ring(velocity, loud, USUAL_LIMITS) is rings


def test_settings_that_let_everything_through_before_there_were_more_limits_do_so_still():
    kept = Limits(
        softest=0,
        shortest_s=0.0,
        faint_s=0.0,
        doubled_s=0.0,
        flicker_s=0.0,
        cross_talk_s=0.0,
        arrives_s=0.0,
        bend_arrives_s=0.0,
    )
    assert kept == NO_LIMITS
