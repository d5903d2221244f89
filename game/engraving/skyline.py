"""The upper edge of what stands above a staff, so that the next thing can be put on top of it. Pure."""

import math
from collections.abc import Iterable
from typing import Final

from game.engraving.shapes import Box

# Columns in a staff space. A box claims every column that it touches: nothing slips between two of them.
_COLUMNS: Final = 8


class Skyline:
    """Remembers, for each column of a line of music, the highest thing that stands there.

    `left` and `right` are the ends of the page's lines, in staff spaces; what lies beyond them is kept in the outermost
    column. Where nothing stands the edge is at `floor`.
    """

    def __init__(self, left: float, right: float, floor: float) -> None:
        self.right = right
        self._left = left
        self._tops = [floor] * (math.ceil((right - left) * _COLUMNS) + 1)

    def add(self, boxes: Iterable[Box]) -> None:
        """Let these stand on the line too."""
        for box in boxes:
            first, end = self._columns(box.left, box.right)
            self._tops[first:end] = [min(top, box.top) for top in self._tops[first:end]]

    def top_over(self, left: float, right: float) -> float:
        """The y of the highest thing between two x, in staff spaces; y grows downwards."""
        first, end = self._columns(left, right)
        return min(self._tops[first:end])

    def _columns(self, left: float, right: float) -> tuple[int, int]:
        last = len(self._tops) - 1
        first = min(max(math.floor((left - self._left) * _COLUMNS), 0), last)
        return first, min(max(math.ceil((right - self._left) * _COLUMNS), first + 1), last + 1)
