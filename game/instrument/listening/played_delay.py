"""How late a guitar that is heard comes, from plucks along with a click. Pure.

The player's own lean is in it: most people come some tens of milliseconds before a click they play with (Repp 2005,
mem). So it is taken from the middle of many, and refused where they scatter.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

FEWEST: Final = 12
WIDEST_S: Final = 0.03
"""Robust standard deviation beyond which plucks do not go with the click."""

_STEADY_S: Final = 0.012
# 1.4826 median absolute deviations are one standard deviation of a normal distribution (Rousseeuw & Croux 1993; mem).
_MAD_TO_SPREAD: Final = 1.4826


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedDelay:
    """The middle of the plucks, late positive, None where they are too few or scatter; `spread_s` as a robust standard
    deviation, `plucks` how many there were.
    """

    late_s: float | None
    spread_s: float
    plucks: int


def played_delay(offsets_s: Sequence[float]) -> PlayedDelay:
    """What plucks came to that lay so far from their clicks, in seconds."""
    if not offsets_s:
        return PlayedDelay(late_s=None, spread_s=0.0, plucks=0)
    middle_s = median(offsets_s)
    spread_s = _MAD_TO_SPREAD * median(abs(offset_s - middle_s) for offset_s in offsets_s)
    usable = len(offsets_s) >= FEWEST and spread_s <= WIDEST_S
    return PlayedDelay(late_s=middle_s if usable else None, spread_s=spread_s, plucks=len(offsets_s))


def enough_played(offsets_s: Sequence[float]) -> bool:
    """Whether there are so many plucks, and so close together, that more would tell nothing new."""
    found = played_delay(offsets_s)
    return found.late_s is not None and found.spread_s <= _STEADY_S
