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


@pytest.mark.skipif(not hasattr(time, "CLOCK_BOOTTIME"), reason="only Linux names the clock that goes on in sleep so")
@pytest.mark.parametrize("kept_waiting", [1, 2, 3, 4])
def test_a_busy_computer_that_keeps_it_waiting_between_two_looks_was_not_asleep(monkeypatch, kept_waiting: int):
    now_s, looks = [100.0], [0]
    slept_s = {time.CLOCK_BOOTTIME: 7.0, time.CLOCK_MONOTONIC: 0.0}

    def look(clock: int) -> float:
        looks[0] += 1
        if looks[0] == kept_waiting:
            now_s[0] += 3.0
        return now_s[0] + slept_s[clock]

    monkeypatch.setattr(time, "clock_gettime", look)
    assert SystemClock().slept_s() == pytest.approx(7.0, abs=0.001)
