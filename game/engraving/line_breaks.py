"""Where the lines of a still page begin. Pure."""

from collections.abc import Sequence
from itertools import accumulate, pairwise
from typing import NamedTuple

from game.engraving.shapes import System
from game.music.score import Bar

# Four bars a line is how charts are written (trade).
BARS_A_LINE = 4
# A section begins a line where it can: then a line may hold one bar more or fewer. At most so many stand on one.
MOST_BARS = 6
# How far below their free width bars may be squeezed before a line takes fewer of them.
TIGHTEST = 0.92

# What is given up where a line is not four bars, all ours: they decide only between pages that could all be printed.
_SECTION_INSIDE = 2.5
_DOUBLE_BAR_INSIDE = 0.8
_LAST_LINE_SHORT = 0.3
_ONE_BAR_ALONE = 1.8


class _Page(NamedTuple):
    """The best way found to set the first bars: what is given up, and where its lines begin and end."""

    cost: float
    edges: tuple[int, ...]

    def rank(self) -> tuple[float, list[int]]:
        """Of pages equally good the one whose first lines hold four bars comes first."""
        return self.cost, [abs(end - start - BARS_A_LINE) for start, end in pairwise(self.edges)]


def system_starts(line: System, bars: Sequence[Bar], width_spaces: float) -> tuple[int, ...]:
    """Indices of the bars that begin a line, the first bar left out.

    `line` is the same bars on one endless line, spaced as a page: it tells how wide each wants to be. Lines hold four
    bars where they are not too wide; sections and double bars end a line where that costs a bar more or fewer. A
    pickup bar does not count. A line holds at least one bar.
    """
    opening = (max(shape.box.right for shape in line.opening) if line.opening else line.left) - line.left
    reach = tuple(accumulate(bar_widths(line), initial=0.0))
    room = (width_spaces - opening) / TIGHTEST
    pages = [_Page(0.0, (0,))]
    for end in range(1, len(bars) + 1):
        fitting = (start for start in range(max(0, end - MOST_BARS), end) if reach[end] - reach[start] <= room)
        ways = (
            _Page(pages[start].cost + _given_up(bars, start, end), (*pages[start].edges, end))
            for start in (*fitting, end - 1)
        )
        pages.append(min(ways, key=_Page.rank))
    return pages[-1].edges[1:-1]


def _given_up(bars: Sequence[Bar], start: int, end: int) -> float:
    """How far bars `start` to `end` on one line are from how a chart is written."""
    count = end - start - (1 if start == 0 and bars[0].pickup else 0)
    last = end == len(bars)
    cost = float((count - BARS_A_LINE) ** 2)
    if last and count < BARS_A_LINE:
        cost = _LAST_LINE_SHORT * (BARS_A_LINE - count) + (_ONE_BAR_ALONE if count == 1 else 0)
    return cost + sum(_inside(before, bar) for before, bar in pairwise(bars[start:end]))


def _inside(before: Bar, bar: Bar) -> float:
    """What is given up where `bar` follows `before` on the same line."""
    if bar.marks.section:
        return _SECTION_INSIDE
    ends = before.marks.bar_line or (before.marks.repeat_end and not before.marks.endings)
    return _DOUBLE_BAR_INSIDE if ends else 0.0


def bar_widths(line: System) -> tuple[float, ...]:
    """The width of each bar in staff spaces, the first without clef, key and metre."""
    left = max(shape.box.right for shape in line.opening) if line.opening else line.left
    edges = (left, *line.bar_ends)
    return tuple(end - start for start, end in pairwise(edges))
