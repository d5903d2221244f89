"""The look at a page before it is read at first sight: silent, and half a minute at most. Pure."""

from dataclasses import dataclass
from math import ceil

LOOK_S = 30.0
"""So long key, range and repeats may be looked at (ours; auditions give about as much)."""


@dataclass(frozen=True, slots=True)
class FirstLook:
    """A look, begun or not: `began_s` is when the page was turned up."""

    began_s: float | None = None

    def left_s(self, now_s: float) -> int:
        """Whole seconds that are left, all of them before it began; 0 once it is over."""
        passed_s = 0.0 if self.began_s is None else now_s - self.began_s
        return max(0, ceil(LOOK_S - passed_s))

    def is_over(self, now_s: float) -> bool:
        """Whether it began and its time has passed."""
        return self.began_s is not None and now_s - self.began_s >= LOOK_S
