"""A smooth curve through values one after another, and the band in which nine of ten of them probably lie. Pure.

The middle at a value is the mean of it and its neighbours, near ones counting most. The band is as wide as values stray
from what their neighbours alone would have foretold, so that it holds for values to come as well, and never narrower
than chance alone lets them stray.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, sqrt

FEWEST = 5
"""Fewer values make no curve."""

NINE_OF_TEN_Z = 1.644854
"""Two-sided 90 % of the normal distribution (standard table)."""

_NEAR = 2.0
"""Values so far apart count 0.61 of what the nearest do (a normal curve). Ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strayed:
    """A value, how much it counts beside others, and by how much chance alone lets it stray (a standard deviation)."""

    value: float
    weight: float = 1.0
    by_chance: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvePoint:
    """The curve at a value: its middle, and the band there."""

    middle: float
    low: float
    high: float


def share_of_notes(right: int, notes: int, together: float) -> Strayed:
    """The share of notes that were right in one line, where `together` of all of them are: how far it strays by chance
    is that of so many draws. Raises `ValueError` for no notes.
    """
    if notes <= 0:
        raise ValueError("a share of no notes")
    # One note each way: nothing is sure, however all of a few were right.
    sure = (together * notes + 0.5) / (notes + 1)
    return Strayed(value=right / notes, weight=notes, by_chance=sqrt(sure * (1 - sure) / notes))


def curve_through(
    values: Sequence[Strayed], *, least: float = 0.0, most: float | None = None
) -> tuple[CurvePoint, ...]:
    """The curve at each of the values, in bounds; none through fewer than five."""
    if len(values) < FEWEST:
        return ()
    strays = [(values[at].value - _middle(values, at, itself=False)) ** 2 for at in range(len(values))]
    usual = sum(strays) / len(strays)
    points = []
    for at, one in enumerate(values):
        middle = _middle(values, at, itself=True)
        reach = NINE_OF_TEN_Z * sqrt(max(usual, one.by_chance**2))
        high = middle + reach if most is None else min(most, middle + reach)
        points.append(CurvePoint(middle=middle, low=max(least, middle - reach), high=high))
    return tuple(points)


def _middle(values: Sequence[Strayed], at: int, *, itself: bool) -> float:
    """The mean around a value, with it or without."""
    near = [
        (one.weight * exp(-(((other - at) / _NEAR) ** 2) / 2), one.value)
        for other, one in enumerate(values)
        if itself or other != at
    ]
    return sum(weight * value for weight, value in near) / sum(weight for weight, _ in near)
