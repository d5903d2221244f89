"""The time of a step runs while it is done, and no longer."""

from datetime import UTC, datetime, timedelta

import pytest

from game.clock import HandClock
from game.player.step_time import SITTING, StepTime

EVENING = datetime(2026, 11, 24, 20, tzinfo=UTC)


@pytest.fixture
def clock():
    return HandClock(100.0)


@pytest.fixture
def time(clock):
    return StepTime(clock.now_s, lambda: EVENING + timedelta(seconds=clock.now_s()))


def test_a_step_that_is_left_goes_on_with_the_seconds_it_had(clock, time):
    assert not time.begun
    time.begin()
    clock.advance(40)
    time.stop(most_s=600)
    clock.advance(900)
    assert (time.running, time.begun, time.ran_s) == (False, True, 40.0)
    time.begin()
    clock.advance(20)
    assert time.ran_s == 60.0
    time.clear()


def test_a_computer_that_slept_with_a_step_open_did_not_practise_for_hours(clock, time):
    time.begin()
    clock.advance(9 * 3600)
    time.stop(most_s=600)
    assert time.ran_s == 600.0
    assert not time.was_lately, "it was left when it was begun, as far as anybody knows"


def test_each_second_is_told_once(clock, time):
    for seconds in (30, 45):
        time.begin()
        clock.advance(seconds)
        time.stop(most_s=600)
        assert time.to_tell_s() == seconds
    assert time.to_tell_s() == 0.0


def test_who_left_a_step_lately_goes_on_with_it_and_hours_later_not(clock, time):
    time.begin()
    clock.advance(60)
    time.stop(most_s=600)
    clock.advance(SITTING.total_seconds() - 1)
    assert time.was_lately
    clock.advance(2)
    assert not time.was_lately
