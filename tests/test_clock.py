"""The one clock."""

import time

import pytest

from game.clock import HandClock, SystemClock


def test_a_clock_set_by_hand_stands_still_until_it_is_moved():
    clock = HandClock(5.0)
    assert (clock.now_s(), clock.now_s()) == (5.0, 5.0)
    clock.advance(0.25)
    assert clock.now_s() == 5.25


def test_a_clock_does_not_go_back():
    with pytest.raises(ValueError, match="does not go back"):
        HandClock().advance(-0.1)


def test_the_clock_of_the_system_is_the_one_that_python_counts_performance_by():
    before, now, after = time.perf_counter(), SystemClock().now_s(), time.perf_counter()
    assert before <= now <= after


def test_a_clock_set_by_hand_counts_its_sleep_apart():
    clock = HandClock(5.0)
    clock.sleep(60.0)
    assert (clock.now_s(), clock.slept_s()) == (5.0, 60.0)


def test_while_the_computer_is_awake_the_clock_of_the_system_counts_no_sleep():
    clock = SystemClock()
    before_s = clock.slept_s()
    time.sleep(0.05)
    assert abs(clock.slept_s() - before_s) < 0.01
