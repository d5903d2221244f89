"""Only the time that a child is waited for is counted."""

import threading

import pytest

from game.practice_log.foreign import waiting_limit
from game.practice_log.foreign.waiting_limit import WaitingLimit


@pytest.fixture(name="clock")
def clock_by_hand(monkeypatch):
    """A clock that goes on where a test says so."""
    now_s = [100.0]
    monkeypatch.setattr(waiting_limit.time, "monotonic", lambda: now_s[0])
    return now_s


def test_what_is_done_between_two_answers_is_not_counted(clock):
    limit = WaitingLimit(20.0, lambda: None)
    for _ in range(3):
        with limit:
            clock[0] += 2.0
        clock[0] += 1000.0
    assert limit.left_s == pytest.approx(14.0)


def test_whoever_lets_us_wait_too_long_is_ended():
    ended = threading.Event()
    with WaitingLimit(0.01, ended.set):
        assert ended.wait(30)


def test_it_is_ended_where_nothing_is_left_of_the_limit(clock):
    ended = threading.Event()
    limit = WaitingLimit(5.0, ended.set)
    with limit:
        clock[0] += 6.0
    assert not ended.is_set()
    with limit:
        assert ended.wait(30)


def test_nobody_is_ended_who_answered_in_time():
    ended = threading.Event()
    with WaitingLimit(3600.0, ended.set):
        pass
    assert not ended.wait(0.05)
