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


class SystemClock:
    """`time.perf_counter`: the clock MIDI notes are stamped with, too."""

    def now_s(self) -> float:
        """Monotonic seconds of this process."""
        return time.perf_counter()


class HandClock:
    """A clock that stands still until it is moved: for tests, the demo and simulated players."""

    def __init__(self, now_s: float = 0.0) -> None:
        self._now_s = now_s

    def now_s(self) -> float:
        """The seconds last set."""
        return self._now_s

    def advance(self, seconds: float) -> None:
        """Move on by `seconds`, which is not negative."""
        if seconds < 0:
            raise ValueError(f"a clock does not go back: {seconds} s")
        self._now_s += seconds
