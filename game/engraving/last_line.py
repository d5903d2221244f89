"""A short last line, spaced like the lines above it. Pure.

verovio either spreads a line over the whole width or leaves it as narrow as it goes: two bars of a last line are then
torn apart or squeezed. So bars nobody sees are put behind a short last line, and the staff ends where the music ends.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import chain, cycle, pairwise
from typing import Final

from game.music.score import NO_MARKS, Bar, BarLine, Note

# A last line at least this full, beside the others, is spread over the whole width.
FULL: Final = 0.85


def filled(
    bars: Sequence[Bar], widths: Sequence[float], starts: Sequence[int], *, final_barline: bool
) -> tuple[Bar, ...]:
    """The bars and, where the last line is short, copies of earlier ones behind them.

    `widths` are the bars' own in staff spaces, `starts` the bars that begin a line.
    """
    edges = (0, *starts, len(bars))
    wide = [sum(widths[start:end]) for start, end in pairwise(edges)]
    if len(wide) == 1:
        return tuple(bars)
    mean, last = sum(wide[:-1]) / (len(wide) - 1), wide[-1]
    if last >= FULL * mean:
        return tuple(bars)
    filler: list[Bar] = []
    for place in chain(reversed(range(len(bars) - 1)), cycle((len(bars) - 1,))):
        # So that the sum comes as near as it can.
        if mean - last < widths[place] / 2:
            break
        last += widths[place]
        filler.append(_unseen(bars[place], bars[-1]))
    return (*bars[:-1], _ended(bars[-1], final_barline=final_barline), *filler)


def _ended(bar: Bar, *, final_barline: bool) -> Bar:
    """The last bar with its final bar line written out, as others now stand behind it."""
    if not final_barline or bar.marks.bar_line or bar.marks.repeat_end:
        return bar
    return replace(bar, marks=replace(bar.marks, bar_line=BarLine.FINAL))


def _unseen(bar: Bar, last: Bar) -> Bar:
    """A copy of a bar that brings no signature, sign, symbol or tie of its own."""
    events = tuple(
        replace(event, tied_to_next=False, tied_from_previous=False) if isinstance(event, Note) else event
        for event in bar.events
    )
    return replace(bar, events=events, key=last.key, meter=last.meter, chords=(), marks=NO_MARKS, pickup=False)
