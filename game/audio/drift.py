"""How far the sound card's clock runs from ours, and what to do about it at the next block. Pure.

The only sight of the card's clock is that a block began between one frame and the next. So nothing is averaged:
each sight bounds how late the card can be, and all of them together bound its drift. Clicks are moved only when
those bounds leave no doubt, and never on a card that keeps our time.

Sound cards are off by some tens of parts in a million: a tenth of a second in half an hour. A driver that is off
by more than a thousandth (the silent ones sleep instead of playing) does not keep time and is left alone.
"""

from dataclasses import dataclass, replace

NOTICED_S = 0.003
"""Clicks are moved once they would be this far off: half the least displacement that is noticed, 6 ms (Friberg &
Sundberg 1995).
"""

LARGEST_DRIFT = 1e-3
STEP_S, _STEPS_BELOW_S = 0.004, 0.02
"""Clicks are moved by no more than this at a time, too little to be noticed; faster after a stall, which was heard."""

_DOUBT_S = 0.001
"""How well the beginning of the stream, and the moment of a frame, are known."""

_BROKEN_S = 0.01
"""A sight this far outside the bounds: the card stalled, or does not keep time. One less far off was only unsteady."""

_AGREEING = 3
"""So many sights must agree before clicks are moved, and so many breaks in a row are a driver without a clock."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lateness:
    """Bounds on how late the card is: `late` + drift * (stream time - `anchor_s`), all in seconds.

    The pairs are (least, most). `sighted` is what was seen at the anchor, `doubt_s` how far a sight may be off beside
    what the frames allow. `agreed` and `broken` count sights in a row.
    """

    anchor_s: float = 0.0
    doubt_s: float = _DOUBT_S
    sighted: tuple[float, float] = (0.0, 0.0)
    late: tuple[float, float] = (-_DOUBT_S, _DOUBT_S)
    drifts: tuple[float, float] = (-LARGEST_DRIFT, LARGEST_DRIFT)
    agreed: int = 0
    broken: int = 0

    @property
    def drift(self) -> float:
        """Seconds that the card falls behind in a second; 0 while it cannot be told from none."""
        least, most = self.drifts
        return 0.0 if least <= 0 <= most else (least + most) / 2

    @property
    def keeps_time(self) -> bool:
        """Whether the output has a clock worth the name."""
        return self.broken < _AGREEING

    def bounds_s(self, stream_s: float) -> tuple[float, float]:
        """The least and most that the card can be late at `stream_s`, not before the anchor."""
        since_s = stream_s - self.anchor_s
        return self.late[0] + self.drifts[0] * since_s, self.late[1] + self.drifts[1] * since_s


def lateness_after(lateness: Lateness, *, stream_s: float, after_s: float, before_s: float) -> Lateness:
    """Take in that the card came to `stream_s` between two moments of our clock, all counted from its start."""
    sighted = after_s - stream_s, before_s - stream_s
    least, most = sighted[0] - lateness.doubt_s, sighted[1] + lateness.doubt_s
    bound_least, bound_most = lateness.bounds_s(stream_s)
    if least - bound_most > _BROKEN_S or bound_least - most > _BROKEN_S:
        return Lateness(
            anchor_s=stream_s,
            doubt_s=lateness.doubt_s,
            sighted=sighted,
            late=(least, most),
            drifts=lateness.drifts,  # A stall does not change the card's clock.
            broken=min(lateness.broken + 1, _AGREEING),
        )
    broken = lateness.broken if lateness.broken >= _AGREEING else 0
    return replace(_narrowed(lateness, stream_s, least, most), broken=broken)


def _narrowed(lateness: Lateness, stream_s: float, least: float, most: float) -> Lateness:
    """The bounds, each drawn in as far as the others and the new sight allow."""
    since_s = stream_s - lateness.anchor_s
    if since_s <= 0:
        return lateness
    late = (
        max(lateness.late[0], least - lateness.drifts[1] * since_s),
        min(lateness.late[1], most - lateness.drifts[0] * since_s),
    )
    drifts = (
        max(lateness.drifts[0], (least - late[1]) / since_s),
        min(lateness.drifts[1], (most - late[0]) / since_s),
    )
    if late[0] > late[1] or drifts[0] > drifts[1]:
        return _doubted(lateness)
    return replace(lateness, late=late, drifts=drifts, agreed=lateness.agreed + 1)


def _doubted(lateness: Lateness) -> Lateness:
    """Begun again from the anchor with more doubt: the card's own unsteadiness contradicts the bounds."""
    doubt_s = lateness.doubt_s + _DOUBT_S
    late = lateness.sighted[0] - doubt_s, lateness.sighted[1] + doubt_s
    return Lateness(
        anchor_s=lateness.anchor_s, doubt_s=doubt_s, sighted=lateness.sighted, late=late, broken=lateness.broken
    )


def correction(lateness: Lateness, *, due_sample: int, sent_samples: int, rate: int, most_samples: int) -> int:
    """By how many samples of silence the next block is to be put off; negative: shortened.

    It is due at `due_sample` by our clock and would begin after `sent_samples` by the card's. 0 while it may be
    right as it is, or is less than `NOTICED_S` off, or where the output keeps no time; at most `most_samples`.
    """
    if lateness.agreed < _AGREEING or not lateness.keeps_time:
        return 0
    least, most = lateness.bounds_s(sent_samples / rate)
    off_s = (due_sample - sent_samples) / rate
    if least <= off_s <= most:
        return 0
    put_off_s = off_s - (least + most) / 2
    if abs(put_off_s) < NOTICED_S:
        return 0
    most_s = STEP_S if abs(put_off_s) < _STEPS_BELOW_S else most_samples / rate
    return round(max(-most_s, min(most_s, put_off_s)) * rate)
