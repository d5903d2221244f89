"""Where strokes beside a swung melody fall: the off-beat eighths that swing there swing here. Pure."""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from fractions import Fraction

from game.audio.click_bars import ClickBar
from game.judging.swing import STRAIGHT, off_beat_share, swung_off_beats

_EXACT = 1000
"""Swing is taken to a thousandth, as for the clicks."""


class SwungPlaces:
    """Places of written-out bars as they sound. `struck` are all onsets of all parts: a beat that any of them divides
    otherwise stays as it is written. `swing` is long:short.
    """

    def __init__(self, placed: Sequence[ClickBar], struck: Iterable[Fraction], swing: float) -> None:
        self._late = Fraction(off_beat_share(swing)).limit_denominator(_EXACT) - Fraction(1, 2)
        self._off_beats: frozenset[Fraction] = frozenset()
        if swing != STRAIGHT:
            self._off_beats = _off_beats(placed, sorted(set(struck)))

    def of(self, quarters: Fraction) -> Fraction:
        """Where a place sounds."""
        return quarters + self._late if quarters in self._off_beats else quarters


def _off_beats(placed: Sequence[ClickBar], struck: Sequence[Fraction]) -> frozenset[Fraction]:
    starts = [bar.start for bar in placed]
    positions: list[Fraction | None] = []
    for at in struck:
        bar = placed[max(0, bisect_right(starts, at) - 1)]
        # Beats are told apart over all bars, as the judge does it.
        positions.append(bar.first_beat // 1 + at - bar.first_beat if bar.meter.unit <= 4 else None)
    swings = swung_off_beats(positions)
    return frozenset(at for at, late in zip(struck, swings, strict=True) if late)
