"""What today's plan is made of."""

import pytest

from tests.coach.plan.situations import situation


@pytest.mark.parametrize("minutes", [4, 91])
def test_minutes_nobody_has_are_refused(minutes):
    with pytest.raises(ValueError, match="choose 5 to 90"):
        situation(minutes=minutes)


@pytest.mark.parametrize("minutes", [5, 90])
def test_the_bounds_themselves_can_be_planned(minutes):
    assert situation(minutes=minutes).minutes == minutes
