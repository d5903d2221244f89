"""How the systems of a still page stand one under the other. Pure."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from game.engraving.shapes import System

# Between the print of one system and that of the next, and from one staff to the next at least, in staff spaces.
_BETWEEN: Final = 1.2
_NEAREST: Final = 9.0
# Between the outermost print and the edge of the page.
_EDGE: Final = 0.5


def staff_tops(systems: Sequence[System], below: Sequence[float]) -> tuple[float, ...]:
    """The y of each system's top staff line on the page, in staff spaces, all equally far apart.

    `below` is the room that stays free below the print of each system.
    """
    heights = [
        (system.top_line - box.top, box.bottom - system.top_line) for system in systems for box in (system.extent,)
    ]
    reaches = [low + room for (_, low), room in zip(heights, below, strict=True)]
    distance = max((_NEAREST, *(low + _BETWEEN + high for low, (high, _) in zip(reaches, heights[1:], strict=False))))
    return tuple(_EDGE + heights[0][0] + index * distance for index in range(len(systems)))


def bands(systems: Sequence[System], tops: Sequence[float], below: Sequence[float]) -> tuple[float, ...]:
    """Where each system's share of the page begins, in staff spaces, and last the page's lower edge.

    One ends half-way between the lowest print, with the room below it, and the highest of the next.
    """
    extents = [
        (top + system.extent.top - system.top_line, top + system.extent.bottom - system.top_line + room)
        for system, top, room in zip(systems, tops, below, strict=True)
    ]
    cuts = ((low + high) / 2 for (_, low), (high, _) in pairwise(extents))
    return (0.0, *cuts, extents[-1][1] + _EDGE)
