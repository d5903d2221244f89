"""The game sees when it stood still, and when the computer slept."""

from game.clock import HandClock
from game.practice.clock_gap import LEAST_S, ClockGap, GapWatch


def test_turns_that_follow_each_other_leave_no_gap():
    clock = HandClock(5.0)
    watch = GapWatch(clock)
    for seconds in (0.0, 1 / 60, 0.4, LEAST_S):
        clock.advance(seconds)
        assert watch.gap() is None


def test_a_turn_that_comes_late_tells_from_when_until_when_nothing_was_done_once():
    clock = HandClock(5.0)
    watch = GapWatch(clock)
    clock.advance(3.0)
    assert watch.gap() == ClockGap(from_s=5.0, until_s=8.0, asleep=False)
    assert watch.gap() is None


def test_a_computer_that_slept_is_noticed_though_the_clock_stood_still_with_it():
    clock = HandClock(5.0)
    watch = GapWatch(clock)
    clock.sleep(600.0)
    assert watch.gap() == ClockGap(from_s=5.0, until_s=5.0, asleep=True)
    assert watch.gap() is None
