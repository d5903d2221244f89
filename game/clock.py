"""The one clock: monotonic seconds from an arbitrary zero; and the clock on the wall, for days and records. Both are
passed in; tests set theirs by hand.
"""

import time
from datetime import datetime
from typing import Protocol


def wall_time() -> datetime:
    """The time on the wall, in the zone that this computer is set to: its date is the player's day."""
    return datetime.now().astimezone()


class Clock(Protocol):
    """Anything that tells the seconds."""

    def now_s(self) -> float:
        """Monotonic seconds; only differences mean anything."""
        ...

    def slept_s(self) -> float:
        """Seconds that the computer slept, and `now_s` left out; only differences mean anything."""
        ...


class SystemClock:
    """`time.perf_counter`: the clock MIDI notes are stamped with, too."""

    def now_s(self) -> float:
        """Monotonic seconds of this process."""
        return time.perf_counter()

    def slept_s(self) -> float:
        """By the clock of this system that goes on in sleep, against the one that does not; 0 where `now_s` itself goes
        on, as on Windows.
        """
        if _GOES_ON is None or _STANDS_STILL is None:
            return 0.0
        for _ in range(_LOOKS):
            before_s, goes_on_s = time.clock_gettime(_STANDS_STILL), time.clock_gettime(_GOES_ON)
            after_s = time.clock_gettime(_STANDS_STILL)
            if after_s - before_s < _AT_ONCE_S:
                break
        return goes_on_s - (before_s + after_s) / 2


_AT_ONCE_S, _LOOKS = 0.001, 5
"""Two clocks that were looked at one after the other tell of a sleep that was none where the computer was busy between:
then they are looked at again.
"""


_GOES_ON, _STANDS_STILL = (
    (time.CLOCK_BOOTTIME, time.CLOCK_MONOTONIC)
    if hasattr(time, "CLOCK_BOOTTIME")
    else (getattr(time, "CLOCK_MONOTONIC", None), getattr(time, "CLOCK_UPTIME_RAW", None))
)
"""Linux (clock_gettime(2)), and macOS, whose CLOCK_MONOTONIC goes on in sleep (its clock_gettime(3))."""


class HandClock:
    """A clock that stands still until it is moved: for tests, the demo and simulated players."""

    def __init__(self, now_s: float = 0.0) -> None:
        self._now_s, self._slept_s = now_s, 0.0

    def slept_s(self) -> float:
        """The seconds of all sleep."""
        return self._slept_s

    def sleep(self, seconds: float) -> None:
        """The computer sleeps, and this clock stands still."""
        self._slept_s += seconds

    def now_s(self) -> float:
        """The seconds last set."""
        return self._now_s

    def advance(self, seconds: float) -> None:
        """Move on by `seconds`, which is not negative."""
        if seconds < 0:
            raise ValueError(f"a clock does not go back: {seconds} s")
        self._now_s += seconds
