"""Sees when the clock on the wall is set while the game runs: against the monotonic clock, which nobody sets."""

from collections.abc import Callable
from datetime import datetime

from game.practice_log.database.clock_order import TOLERATED_US

_TOLERATED_S = TOLERATED_US / 1_000_000


class ClockWatch:
    """Watches from when it is made. `now` tells the time on the wall, `now_s` the monotonic seconds."""

    def __init__(self, now: Callable[[], datetime], now_s: Callable[[], float]) -> None:
        self._now, self._now_s = now, now_s
        self._ahead_s = self._measured_s()

    def jumped(self) -> bool:
        """Whether the clock was set since this was asked last, by more than what is tolerated. A computer that slept
        looks like that too.
        """
        before, self._ahead_s = self._ahead_s, self._measured_s()
        return abs(self._ahead_s - before) > _TOLERATED_S

    def _measured_s(self) -> float:
        """How much the time on the wall is ahead of the seconds."""
        return self._now().timestamp() - self._now_s()
