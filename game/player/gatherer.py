"""When a log is brought together with those of the player's other computers: at the start, whenever the game rests, and
at leaving; never during a take. It is done in a process of its own: this here says when, and waits for nothing.
"""

from collections.abc import Callable
from typing import Protocol

REST_S = 5.0
"""So long nothing is played before the game rests: whoever reads on does so within seconds. Ours."""

EVERY_S = 300.0
"""So often a resting game looks for what others have brought, where nothing was done on this computer. Ours."""

LEAVING_S = 4.0
"""So long the program goes on after its window was closed; what is not done by then is done at the next start. Ours."""


class ProcessThatGathers(Protocol):
    """A process that gathers."""

    @property
    def over(self) -> bool:
        """Whether it has ended, well or not."""
        ...

    @property
    def came_in(self) -> bool:
        """Whether anything new came into the log; asked when it is over."""
        ...

    def wait(self, timeout_s: float) -> None:
        """Wait until it is over, and not longer than that."""
        ...

    def stop(self) -> None:
        """End it wherever it is: nothing is lost by that, and nothing is half there."""
        ...


class Gatherer:
    """Gathers again and again. `start` begins a process, None where the player shares with no other computer."""

    def __init__(self, start: Callable[[], ProcessThatGathers | None]) -> None:
        self._start = start
        self._under_way: ProcessThatGathers | None = None
        self._due = True
        self._began_s = 0.0
        self._resting_since_s: float | None = None
        self._came_in = False

    @property
    def under_way(self) -> bool:
        """Whether a process gathers now."""
        return self._under_way is not None and not self._under_way.over

    def begin(self, now_s: float) -> None:
        """Gather now, where nothing gathers already. Not to be called during a take."""
        self._look_at_what_ended()
        if self._under_way is None:
            self._under_way, self._due, self._began_s = self._start(), False, now_s

    def done_here(self) -> None:
        """Something was recorded on this computer: the others should have it before long."""
        self._due = True

    def look(self, now_s: float, *, resting: bool, in_take: bool) -> bool:
        """Time has passed. Whether entries came into the log: told once, and only while the game rests."""
        if in_take and self._under_way is not None and not self._under_way.over:
            self.stop()
        if not resting:
            self._resting_since_s = None
            return False
        if self._resting_since_s is None:
            self._resting_since_s = now_s
        self._look_at_what_ended()
        if self._came_in:
            self._came_in = False
            return True
        if now_s - self._resting_since_s >= REST_S and (self._due or now_s - self._began_s >= EVERY_S):
            self.begin(now_s)
        return False

    def leave(self, now_s: float) -> None:
        """The game was left: bring what was recorded to the others, as far as that is done in a few seconds."""
        self.stop()
        self.begin(now_s)
        if self._under_way is not None:
            self._under_way.wait(LEAVING_S)
            self.stop()

    def stop(self) -> None:
        """End what gathers now; it is due again."""
        if self._under_way is not None:
            self._under_way.stop()
            self._under_way, self._due = None, True

    def _look_at_what_ended(self) -> None:
        """The log is asked what came in: not while anything is played, or about to be."""
        if self._under_way is not None and self._under_way.over:
            self._came_in |= self._under_way.came_in
            self._under_way = None
