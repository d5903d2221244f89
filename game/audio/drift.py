"""How far the sound card's clock runs from ours, and what to do about it at the next block. Pure.

The only sight of the card's clock is when one block ends and the next begins. That is seen once a frame, so a
single sight is late by anything up to a frame; a line through many of them is not. The line's slope is the drift.
Sound cards are off by some tens of parts in a million: a tenth of a second in half an hour. A driver that is off
by more than a thousandth (the silent ones sleep instead of playing) does not keep time and is left alone.
"""

from dataclasses import dataclass, replace
from math import sqrt

NOTICED_S = 0.003
"""Clicks are moved once they would be this far off: half the least displacement that is noticed, 6 ms (Friberg &
Sundberg 1995).
"""

LARGEST_DRIFT = 1e-3
_LEAST_SIGHTS = 6
_SURE = 2.0
"""By how many standard errors the slope must differ from none."""

_LATE_S = 0.03
"""A sight this much later than the line says was a stalled frame, or, twice running, a stalled card."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sights:
    """What was seen so far: sums over `count` sights of (stream time, lateness), both in seconds.

    `stalled_s` is what the card lost by stalling, `suspect_s` how late the last sight was, 0 when it was not.
    """

    count: int = 0
    sum_x: float = 0.0
    sum_y: float = 0.0
    sum_xx: float = 0.0
    sum_xy: float = 0.0
    sum_yy: float = 0.0
    stalled_s: float = 0.0
    suspect_s: float = 0.0

    @property
    def drift(self) -> float:
        """Seconds that the card falls behind in a second of stream time; 0 while it cannot be told from none."""
        if self.count < _LEAST_SIGHTS:
            return 0.0
        slope, error = self._slope()
        return slope if abs(slope) > _SURE * error and abs(slope) <= LARGEST_DRIFT else 0.0

    @property
    def keeps_time(self) -> bool:
        """Whether the output's clock is one: False where it is off by more than a thousandth."""
        if self.count < _LEAST_SIGHTS:
            return True
        slope, error = self._slope()
        return abs(slope) - _SURE * error <= LARGEST_DRIFT

    def _slope(self) -> tuple[float, float]:
        """Slope of the line of least squares, and its standard error."""
        spread = self.sum_xx - self.sum_x**2 / self.count
        together = self.sum_xy - self.sum_x * self.sum_y / self.count
        if spread <= 0:
            return 0.0, 1.0
        slope = together / spread
        left = self.sum_yy - self.sum_y**2 / self.count - slope * together
        return slope, sqrt(max(left, 0.0) / (self.count - 2) / spread)

    def expected_late_s(self, stream_s: float) -> float:
        """How late a sight at `stream_s` should come."""
        slope = self._slope()[0] if self.count >= _LEAST_SIGHTS else 0.0
        return self.sum_y / self.count + slope * (stream_s - self.sum_x / self.count)


def seen(sights: Sights, *, stream_s: float, clock_s: float) -> Sights:
    """Take in that sample `stream_s * rate` of the stream was reached at `clock_s`, both from its start."""
    late_s = clock_s - stream_s - sights.stalled_s
    if sights.count and sights.keeps_time:
        beyond_s = late_s - sights.expected_late_s(stream_s)
        if beyond_s > _LATE_S:
            if not sights.suspect_s:
                return replace(sights, suspect_s=beyond_s)
            lost_s = min(beyond_s, sights.suspect_s)
            sights = replace(sights, stalled_s=sights.stalled_s + lost_s)
            late_s -= lost_s
    return replace(
        sights,
        count=sights.count + 1,
        sum_x=sights.sum_x + stream_s,
        sum_y=sights.sum_y + late_s,
        sum_xx=sights.sum_xx + stream_s**2,
        sum_xy=sights.sum_xy + stream_s * late_s,
        sum_yy=sights.sum_yy + late_s**2,
        suspect_s=0.0,
    )


def correction(sights: Sights, *, due_sample: int, sent_samples: int, rate: int, most_samples: int) -> int:
    """By how many samples of silence the next block is to be put off; negative: shortened.

    It is due at `due_sample` by our clock and would begin after `sent_samples` by the card's. 0 while it is less
    than `NOTICED_S` off, or where the output keeps no time; at most `most_samples` at a time.
    """
    if not sights.keeps_time:
        return 0
    would_be = sent_samples * (1 + sights.drift) + sights.stalled_s * rate
    off = due_sample - would_be
    if abs(off) < NOTICED_S * rate:
        return 0
    return round(max(-most_samples, min(most_samples, off)))
