"""Where the lines of a still page begin. Pure."""

from collections.abc import Sequence
from itertools import accumulate, pairwise
from typing import NamedTuple

from game.engraving.shapes import System
from game.music.score import Bar, Rest

# Four bars a line is how charts are written (trade).
BARS_A_LINE = 4
# A section begins a line where it can: then a line may hold one bar more or fewer. At most so many stand on one.
MOST_BARS = 6
# How far below their free width bars may be squeezed before a line takes fewer of them.
TIGHTEST = 0.92

# What is given up where a line is not four bars, all ours: they decide only between pages that could all be printed. A
# section is worth two lines of three or five bars: so every number of bars from six on comes out.
_SECTION_INSIDE = 2.5
_DOUBLE_BAR_INSIDE = 2.2
_LAST_LINE_SHORT = 0.3
_ONE_BAR_ALONE = 3.0


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
    bars where they are not too wide; what begins with a section's word, an opening repeat sign, the coda or behind a
    double bar begins a line where that costs a bar more or fewer. What leads into the first full bar does not count.
    A line holds at least one bar.
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
    led_into = start == 0 and _leads_in(bars)
    count = end - start - led_into
    last = end == len(bars)
    cost = float((count - BARS_A_LINE) ** 2)
    if last and count < BARS_A_LINE:
        cost = _LAST_LINE_SHORT * (BARS_A_LINE - count) + (_ONE_BAR_ALONE if count == 1 else 0)
    return cost + sum(_inside(before, bar) for before, bar in pairwise(bars[start + led_into : end]))


def _leads_in(bars: Sequence[Bar]) -> bool:
    """Whether the first bar only leads into the next: a pickup, also one that is written out with rests.

    Rests may stand in it for that alone; a chord symbol over them shows a bar that is played.
    """
    first = bars[0]
    if first.pickup or len(bars) == 1:
        return first.pickup
    if not isinstance(first.events[0], Rest) or not first.notes:
        return False
    if bars[1].marks.repeat_start:
        return True
    played = any(chord.onset == 0 for chord in first.chords)
    return not played and 2 * first.notes[0].onset >= first.length


def _inside(before: Bar, bar: Bar) -> float:
    """What is given up where `bar` follows `before` on the same line."""
    if bar.marks.section or bar.marks.repeat_start or bar.marks.coda or before.marks.jump:
        return _SECTION_INSIDE
    ends = before.marks.bar_line or (before.marks.repeat_end and not before.marks.endings)
    return _DOUBLE_BAR_INSIDE if ends else 0.0


def bar_widths(line: System) -> tuple[float, ...]:
    """The width of each bar in staff spaces, the first without clef, key and metre."""
    left = max(shape.box.right for shape in line.opening) if line.opening else line.left
    edges = (left, *line.bar_ends)
    return tuple(end - start for start, end in pairwise(edges))
