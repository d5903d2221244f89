"""Straight strokes drawn by ourselves, as shapes. Pure."""

from collections.abc import Iterator
from typing import Final

from game.engraving.engraver import UNITS_PER_SPACE
from game.engraving.shapes import Box, Shape

THIN: Final = 0.14
"""About as thick as a thin bar line (trade), in staff spaces."""


def stroke(box: Box) -> Shape:
    """A stroke that fills a box."""
    x, y, right, bottom = (round(at * UNITS_PER_SPACE) for at in (box.left, box.top, box.right, box.bottom))
    return Shape(f'<rect x="{x}" y="{y}" width="{right - x}" height="{bottom - y}"/>', box)


def frame(box: Box, *, left: bool = True, right: bool = True, foot: bool = True) -> Iterator[Shape]:
    """The strokes around a box, the upper one always: shapes of their own, so that none covers what stands inside."""
    yield stroke(Box(box.left, box.top, box.right, box.top + THIN))
    if left:
        yield stroke(Box(box.left, box.top, box.left + THIN, box.bottom))
    if right:
        yield stroke(Box(box.right - THIN, box.top, box.right, box.bottom))
    if foot:
        yield stroke(Box(box.left, box.bottom - THIN, box.right, box.bottom))
