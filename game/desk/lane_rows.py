"""Which row of the pencil's lane each mark stands in. Pure.

Marks stand under their notes, tied to them by a stroke. Where neighbours would touch they stagger: a mark goes to the
first row in which it touches none, crosses no stroke, and its own stroke crosses no mark. What finds no row is left
out.
"""

from bisect import bisect_left, bisect_right, insort
from collections.abc import Sequence
from dataclasses import dataclass

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkColumn:
    """What is to be written under one note: `x` is where its stroke comes down, `spans` from which x to which x each of
    its marks reaches, the one that matters most first. Columns of higher `importance` choose first.
    """

    x: float
    spans: tuple[Span, ...]
    importance: int = 0


@dataclass(frozen=True, slots=True)
class RowsTaken:
    """The row of a column's first mark, and how many of its marks stand there and in the rows below; 0 for none."""

    first: int
    count: int


NOWHERE = RowsTaken(0, 0)


def rows_taken(
    columns: Sequence[MarkColumn], rows: int, gap: float, stroke_gap: float | None = None
) -> tuple[RowsTaken, ...]:
    """The rows of each column in a lane of so many rows, with `gap` between marks side by side, and `stroke_gap`
    between a mark and a stroke: as much where it is not given.
    """
    lane = _Lane(rows, gap, gap if stroke_gap is None else stroke_gap)
    found = [NOWHERE] * len(columns)
    for index in sorted(range(len(columns)), key=lambda index: (-columns[index].importance, columns[index].x)):
        found[index] = lane.take(columns[index])
    return tuple(found)


class _Lane:
    """What stands in each row: spans, and strokes that pass through, both from left to right."""

    def __init__(self, rows: int, gap: float, stroke_gap: float) -> None:
        self._gap, self._stroke_gap = gap, stroke_gap
        self._spans: list[list[Span]] = [[] for _ in range(rows)]
        self._strokes: list[list[float]] = [[] for _ in range(rows)]

    def take(self, column: MarkColumn) -> RowsTaken:
        """The first rows that are free for as many of the marks as can be."""
        rows = len(self._spans)
        for count in range(min(len(column.spans), rows), 0, -1):
            for first in range(rows - count + 1):
                if not self._free_for_stroke(first, column.x):
                    break
                if all(self._free(first + at, span) for at, span in enumerate(column.spans[:count])):
                    self._put(column, first, count)
                    return RowsTaken(first, count)
        return NOWHERE

    def _put(self, column: MarkColumn, first: int, count: int) -> None:
        for row in range(first):
            insort(self._strokes[row], column.x)
        for at, span in enumerate(column.spans[:count]):
            insort(self._spans[first + at], span)

    def _free_for_stroke(self, first: int, x: float) -> bool:
        """Whether a stroke down to a row meets no mark; as the rows are tried downwards only the last one is new."""
        return first == 0 or self._apart(first - 1, (x, x), self._stroke_gap)

    def _free(self, row: int, span: Span) -> bool:
        left, right = span[0] - self._stroke_gap, span[1] + self._stroke_gap
        strokes = self._strokes[row]
        return self._apart(row, span, self._gap) and bisect_left(strokes, left) == bisect_right(strokes, right)

    def _apart(self, row: int, span: Span, gap: float) -> bool:
        """Whether a span keeps its distance from those of a row, which do not overlap."""
        spans = self._spans[row]
        at = bisect_left(spans, span)
        before = at == 0 or spans[at - 1][1] + gap <= span[0]
        return before and (at == len(spans) or span[1] + gap <= spans[at][0])
