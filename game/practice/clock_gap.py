"""Sees when time went by in which the game was not there: the computer slept, or the program was stopped or stalled."""

from dataclasses import dataclass

from game.clock import Clock

LEAST_S = 1.0
"""A gap this long is told; a stalled frame or a slow disk is shorter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockGap:
    """From when until when the game stood still, on the master clock. `asleep`: that clock stood still as well, and
    nothing that was played meanwhile was heard.
    """

    from_s: float
    until_s: float
    asleep: bool


class GapWatch:
    """Asked at every turn of the game, tells of a gap since it was asked last."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._seen_s, self._slept_s = clock.now_s(), clock.slept_s()

    def gap(self) -> ClockGap | None:
        """The gap that has just ended, None for none."""
        before_s, slept_before_s = self._seen_s, self._slept_s
        self._seen_s, self._slept_s = self._clock.now_s(), self._clock.slept_s()
        asleep = self._slept_s - slept_before_s > LEAST_S
        if not asleep and self._seen_s - before_s <= LEAST_S:
            return None
        return ClockGap(from_s=before_s, until_s=self._seen_s, asleep=asleep)
