"""The time spent on the step of the plan under way: it stands still while the step is left."""

from collections.abc import Callable
from datetime import datetime, timedelta

SITTING = timedelta(hours=3)
"""Who played so lately goes on with the plan they began, though midnight came between."""


class StepTime:
    """`now_s` is the master clock, `now` the time on the wall."""

    def __init__(self, now_s: Callable[[], float], now: Callable[[], datetime]) -> None:
        self._now_s, self._now = now_s, now
        self._began_s: float | None = None
        self._began_at: datetime | None = None
        self._last_active: datetime | None = None
        self._before_s, self._told_s = 0.0, 0.0

    @property
    def running(self) -> bool:
        """Whether a step is being done right now."""
        return self._began_s is not None

    @property
    def begun(self) -> bool:
        """Whether the step was begun, be it left for a while."""
        return self.running or self._before_s > 0

    @property
    def ran_s(self) -> float:
        """The seconds spent on the step so far."""
        return self._before_s + (0.0 if self._began_s is None else self._now_s() - self._began_s)

    @property
    def was_lately(self) -> bool:
        """Whether a step was left in this sitting, and not hours ago."""
        return self._last_active is not None and abs(self._now() - self._last_active) < SITTING

    def begin(self) -> None:
        """The step is being done from now on; one that was left goes on."""
        if self._began_s is None:
            self._began_s, self._began_at = self._now_s(), self._now()

    def stop(self, most_s: float) -> None:
        """The time stands still; of one stretch no more than `most_s` is counted."""
        if self._began_s is not None:
            # A computer that slept with a step open, and a player who left, did not practise for hours.
            self._before_s += min(self._now_s() - self._began_s, most_s)
        now = self._now()
        if self._began_at is not None:
            # What lay open overnight was left when it was begun, as far as anybody knows.
            self._last_active = now if abs(now - self._began_at) < SITTING else self._began_at
        self._began_s = self._began_at = None

    def to_tell_s(self) -> float:
        """The seconds up to the last stop that were not told before: they are told now."""
        since_s, self._told_s = self._before_s - self._told_s, self._before_s
        return since_s

    def clear(self) -> None:
        """Another step: nothing was spent on it yet."""
        self._before_s = self._told_s = 0.0
