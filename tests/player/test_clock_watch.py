"""A clock on the wall that is set while the game runs is noticed, once, and one that only goes is not."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from game.clock import HandClock
from game.player.clock_watch import ClockWatch

NOON = datetime(2026, 11, 29, 12, tzinfo=UTC)


class Wall:
    """A clock on the wall that goes with the seconds, and can be set."""

    def __init__(self):
        self.seconds, self.set_by, self.zone = HandClock(50.0), timedelta(), UTC

    def now(self):
        return (NOON + self.set_by + timedelta(seconds=self.seconds.now_s())).astimezone(self.zone)


@pytest.fixture
def wall():
    return Wall()


@pytest.fixture
def watch(wall):
    return ClockWatch(wall.now, wall.seconds.now_s)


def test_hours_that_only_pass_are_no_jump(wall, watch):
    for _ in range(5):
        wall.seconds.advance(3600)
        assert not watch.jumped()


@pytest.mark.parametrize(("seconds", "seen"), [(120, False), (121, True), (-120, False), (-121, True), (86_400, True)])
def test_two_minutes_are_tolerated_in_either_direction(wall, watch, seconds, seen):
    wall.set_by = timedelta(seconds=seconds)
    wall.seconds.advance(60)
    assert watch.jumped() is seen


def test_a_jump_is_told_once_and_the_way_back_is_another(wall, watch):
    wall.set_by = timedelta(days=1)
    assert [watch.jumped(), watch.jumped()] == [True, False]
    wall.set_by = timedelta()
    assert [watch.jumped(), watch.jumped()] == [True, False]


def test_another_zone_and_summer_time_are_no_jump(wall, watch):
    """The same moment is told otherwise."""
    wall.zone = timezone(timedelta(hours=9))
    assert not watch.jumped()
