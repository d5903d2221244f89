"""Strokes of a pen, as rows of points: made while a hand draws, and written again from their beginning. Pure.

Coordinates are of any one unit. A stroke of a single point is a dot, and takes a moment too.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

Point = tuple[float, float]
Stroke = tuple[Point, ...]

DOT_LENGTH = 0.1
"""So long a dot takes, as if the pen had gone so far."""


def longer(stroke: Stroke, point: Point, least: float) -> Stroke:
    """The stroke with another point, where it lies at least so far from the last one."""
    return (*stroke, point) if not stroke or math.dist(stroke[-1], point) >= least else stroke


def point_count(strokes: Sequence[Stroke]) -> int:
    """How many points all of them have."""
    return sum(map(len, strokes))


def fewer(strokes: Sequence[Stroke], most: int) -> tuple[Stroke, ...]:
    """The strokes with about so many points in all, the first and the last of each among them."""
    step = max(1, -(-point_count(strokes) // most))
    return tuple((*stroke[:-1:step], stroke[-1]) for stroke in strokes if stroke)


def way(strokes: Sequence[Stroke]) -> float:
    """How far the pen goes on the paper for all of them."""
    return sum(map(_length, strokes))


def between(strokes: Sequence[Stroke], start: float, end: float) -> tuple[Stroke, ...]:
    """What is written from one share of the whole way to another, each 0 to 1; `start` is left out and `end` in."""
    whole, gone, found = way(strokes), 0.0, []
    # All of it is all, also of a last stroke too small to be seen beside the others.
    low, high = start * whole, end * whole if end < 1 else math.inf
    for stroke in strokes:
        length = _length(stroke)
        part = _part(stroke, low - gone, high - gone)
        if part:
            found.append(part)
        gone += length
    return tuple(found)


def tip(strokes: Sequence[Stroke], share: float) -> Point | None:
    """Where the pen is at a share of the whole way; None where there is nothing to write."""
    written = between(strokes, 0.0, max(share, 1e-6))
    return written[-1][-1] if written else None


def _length(stroke: Stroke) -> float:
    return sum(math.dist(one, other) for one, other in pairwise(stroke)) or (DOT_LENGTH if stroke else 0.0)


def _part(stroke: Stroke, low: float, high: float) -> Stroke:
    """What of a stroke lies between two distances from its beginning; nothing where none of it does."""
    length = _length(stroke)
    if high <= 0 or low >= length or not stroke:
        return ()
    if len(set(stroke)) == 1:
        return stroke[:1] if low <= 0 else ()
    high = min(high, length)
    part = [_at(stroke, max(0.0, low))]
    gone = 0.0
    for one, other in pairwise(stroke):
        gone += math.dist(one, other)
        if low < gone < high:
            part.append(other)
    part.append(_at(stroke, high))
    return tuple(part)


def _at(stroke: Stroke, distance: float) -> Point:
    gone = 0.0
    for one, other in pairwise(stroke):
        step = math.dist(one, other)
        if step and gone + step >= distance:
            along = (distance - gone) / step
            return one[0] + (other[0] - one[0]) * along, one[1] + (other[1] - one[1]) * along
        gone += step
    return stroke[-1]
