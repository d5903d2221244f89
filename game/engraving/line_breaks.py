"""Where the lines of a still page begin. Pure."""

from collections.abc import Sequence
from itertools import pairwise

from game.engraving.shapes import System
from game.music.score import Bar

# Four bars a line is how charts are written (trade).
BARS_A_LINE = 4
# How far below their free width bars may be squeezed before a line takes fewer of them.
TIGHTEST = 0.92


def system_starts(line: System, bars: Sequence[Bar], width_spaces: float) -> tuple[int, ...]:
    """Indices of the bars that begin a line, the first bar left out.

    `line` is the same bars on one endless line, spaced as a page: it tells how wide each wants to be. A
    pickup bar does not count towards the four. A line holds at least one bar.
    """
    widths = bar_widths(line)
    opening = (max(shape.box.right for shape in line.opening) if line.opening else line.left) - line.left
    starts: list[int] = []
    taken, used = 0, opening
    for index, (bar, width) in enumerate(zip(bars, widths, strict=True)):
        needed = width * TIGHTEST
        if taken and (taken >= BARS_A_LINE or used + needed > width_spaces):
            starts.append(index)
            taken, used = 0, opening
        taken += 0 if bar.pickup and index == 0 else 1
        used += needed
    if starts and len(bars) - starts[-1] == 1 and starts[-1] - (starts[-2] if len(starts) > 1 else 0) > 2:
        # No bar is left alone on the last line where the line before can spare one.
        starts[-1] -= 1
    return tuple(starts)


def bar_widths(line: System) -> tuple[float, ...]:
    """The width of each bar in staff spaces, the first without clef, key and metre."""
    left = max(shape.box.right for shape in line.opening) if line.opening else line.left
    edges = (left, *line.bar_ends)
    return tuple(end - start for start, end in pairwise(edges))
