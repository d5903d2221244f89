"""Ties as they are meant where a file has but one end of them. Pure.

Programs leave out the end of a tie, and write slurs as ties. Of the ties of real lead sheets that only begin, three in
four lead to the same pitch, and none of those notes has a syllable of its own: they are ties. What leads to another
pitch is none. Where the page turns back or jumps, the other end may stand elsewhere, and nothing is changed.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from game.music.score import Bar, BarMarks, Event, Note
from game.tunes.left_out import LeftOut


def with_ties_meant(bars: Sequence[Bar], left_out: LeftOut) -> tuple[Bar, ...]:
    """The bars with both ends at each tie between neighbours, and without ties that join nothing; `left_out` hears of
    both.
    """
    rows: list[list[Event]] = [list(bar.events) for bar in bars]
    places = [(bar, at) for bar, row in enumerate(rows) for at, event in enumerate(row) if not _is_grace(event)]
    for (bar, at), (next_bar, next_at) in pairwise(places):
        first, second = rows[bar][at], rows[next_bar][next_at]
        begins, ends = _begins_tie(first), _ends_tie(second)
        if begins == ends:
            continue
        joined = _joined(bars[bar], first, second, same_bar=bar == next_bar)
        if next_bar > bar and _turns(bars, bar, next_bar, onwards=begins and joined):
            continue
        left_out.add("tune.ties_completed" if joined else "tune.ties_to_nothing", bars[bar].number)
        if isinstance(first, Note):
            rows[bar][at] = replace(first, tied_to_next=joined)
        if isinstance(second, Note):
            rows[next_bar][next_at] = replace(second, tied_from_previous=joined)
    return tuple(replace(bar, events=tuple(row)) for bar, row in zip(bars, rows, strict=True))


def _joined(bar: Bar, first: Event, second: Event, *, same_bar: bool) -> bool:
    """Whether two events are one pitch without a gap between them."""
    if not isinstance(first, Note) or not isinstance(second, Note) or first.pitch != second.pitch:
        return False
    end = first.onset + first.length
    return end == second.onset if same_bar else end >= bar.length and second.onset == 0


def _turns(bars: Sequence[Bar], bar: int, next_bar: int, *, onwards: bool) -> bool:
    """Whether the player may go elsewhere from the end of one bar, or come to the next from elsewhere: that does not
    matter to a tie that leads `onwards`.
    """
    before, after = bars[bar].marks, bars[next_bar].marks
    parts = before.ending_stops or _receives(after)
    return next_bar > bar + 1 or _leaves(before) or (parts and not onwards)


def _leaves(marks: BarMarks) -> bool:
    return bool(marks.repeat_end or marks.jump or marks.to_coda or marks.fine)


def _receives(marks: BarMarks) -> bool:
    return marks.repeat_start or marks.ending_starts or marks.segno or marks.coda


def _is_grace(event: Event) -> bool:
    return isinstance(event, Note) and event.grace


def _begins_tie(event: Event) -> bool:
    return isinstance(event, Note) and event.tied_to_next


def _ends_tie(event: Event) -> bool:
    return isinstance(event, Note) and event.tied_from_previous
