"""Where a tune breathes: which of its bar lines look like the end of a phrase.

A page shows whole bars, a phrase need not begin with one. Notes that lead into a phrase from the bar before it stand on
the page of that bar, unless they are most of its notes and of its time: then their bar goes with the phrase they begin.
A note that is tied over the bar line begins the phrase it is tied into, so its bar goes with that phrase, too.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, pairwise
from math import log2
from statistics import median_low
from typing import NamedTuple

from game.music.pitch import Pitch
from game.music.score import Bar, Note

_TICKS = 10080
"""In a quarter note: whole for every note value and tuplet that is usual, and quick to add and compare."""

_WAIT_BARS = 3
_LONGEST_BREATH = 2.0
_REST = 0.5
_OTHER_PICKUP = 0.7
_OTHER_PICKUP_IN_BAR = 0.2


@dataclass(frozen=True, slots=True)
class BarStart:
    """The bar line a bar begins with, as a place to begin a page.

    `breath` is from 0, where the music runs on, to 2.5 after a note four times as long as most and a rest. `divides`
    where the page itself shows that something new begins: a double bar line, a word or letter above it, another key.
    `tied` where a note sounds over it. `again` where the music begins once more as a section began. `counts` whether
    its bar is one of the phrase, as what leads into a section and bars of waiting are not, `sounds` whether it has a
    note.
    """

    breath: float = 0.0
    divides: bool = False
    tied: bool = False
    again: bool = False
    counts: bool = True
    sounds: bool = True


class _Head(NamedTuple):
    """A notehead: when it begins in its bar and how long it is, in ticks."""

    onset: int
    length: int
    pitch: Pitch
    tied_in: bool
    tied_on: bool


class _Attack(NamedTuple):
    """A note where it is struck: when, until when it sounds (ticks from the beginning), and its bar."""

    onset: int
    end: int
    bar: int


def bar_starts(bars: Sequence[Bar]) -> tuple[BarStart, ...]:
    """Each bar of a written-out tune as the beginning of a page."""
    heads = [_heads(bar) for bar in bars]
    tied = [False, *(_is_tied(before, after) for before, after in pairwise(heads))]
    breaths = _breaths(bars, heads, tied)
    contents = [tuple((head.onset, head.length, head.pitch) for head in row) for row in heads]
    begun: set[tuple[tuple[int, int, Pitch], ...]] = set()
    found: list[BarStart] = []
    section_opens, waits = True, _waits(heads)
    for index, bar in enumerate(bars):
        divides = index == 0 or (found[-1].counts and _divides(bars[index - 1], bar))
        counts = not (_leads_in(bar, divides=divides) or index in waits)
        section_opens = section_opens or divides
        again = counts and contents[index] in begun and contents[index] != contents[index - 1]
        found.append(BarStart(breaths[index], divides, tied[index], again, counts, bool(heads[index])))
        if section_opens and counts:
            section_opens = False
            if heads[index]:
                begun.add(contents[index])
    return tuple(found)


def _heads(bar: Bar) -> tuple[_Head, ...]:
    return tuple(
        _Head(_ticks(one.onset), _ticks(one.length), one.pitch, one.tied_from_previous, one.tied_to_next)
        for one in bar.events
        if isinstance(one, Note) and not one.grace
    )


def _waits(heads: Sequence[Sequence[_Head]]) -> set[int]:
    """The bars in which a player only waits: empty ones at the beginning, and three or more together."""
    waits: set[int] = set()
    at = 0
    for sounds, run in groupby(heads, key=bool):
        count = sum(1 for _ in run)
        if not sounds and (at == 0 or count >= _WAIT_BARS):
            waits.update(range(at, at + count))
        at += count
    return waits


def _ticks(time: Fraction) -> int:
    return time.numerator * _TICKS // time.denominator


def _is_tied(before: Sequence[_Head], after: Sequence[_Head]) -> bool:
    return bool(before and after and before[-1].tied_on and after[0].tied_in)


def _divides(before: Bar, bar: Bar) -> bool:
    return before.marks.divides or bool(bar.marks.section) or before.key != bar.key or bar.pickup


def _leads_in(bar: Bar, *, divides: bool) -> bool:
    return bar.pickup or (divides and 2 * bar.length <= bar.meter.bar_length)


def _attacks(heads: Sequence[Sequence[_Head]], stops: Sequence[int]) -> list[_Attack]:
    attacks: list[_Attack] = []
    for index, (start, row) in enumerate(zip((0, *stops), heads, strict=False)):
        for head in row:
            end = start + head.onset + head.length
            if head.tied_in and attacks and attacks[-1].end == end - head.length:
                attacks[-1] = attacks[-1]._replace(end=end)
            else:
                attacks.append(_Attack(start + head.onset, end, index))
    return attacks


def _gap(before: _Attack, after: _Attack, stops: Sequence[int]) -> int:
    """From one note to the next. What is struck shortly before a bar line and held over it is a beginning: it counts
    from the bar line.
    """
    line = stops[before.bar]
    early = before.end > line and line - before.onset < before.end - line + 1
    return after.onset - (line if early and before.bar < after.bar else before.onset)


def _stops(bars: Sequence[Bar]) -> list[int]:
    """Where each bar ends, in ticks from the beginning."""
    stops, at = [], 0
    for bar in bars:
        at += _ticks(bar.length)
        stops.append(at)
    return stops


def _breaths(bars: Sequence[Bar], heads: Sequence[Sequence[_Head]], tied: Sequence[bool]) -> list[float]:
    """How much the music breathes where each bar begins, each breath told of the bar whose page it begins."""
    stops = _stops(bars)
    attacks = _attacks(heads, stops)
    breaths = [0.0] * (len(bars) + 1)
    gaps = [_gap(before, after, stops) for before, after in pairwise(attacks)]
    usual = max(1, median_low(gaps)) if gaps else 1
    pickup = _pickup(bars, attacks, stops)
    in_bar = Counter(attack.bar for attack in attacks)
    earlier = 1
    for (before, after), gap in zip(pairwise(attacks), gaps, strict=True):
        earlier = earlier + 1 if before.bar == after.bar else 0
        # A dotted note is no end: only what is twice as long as most may be one.
        if gap < 2 * usual:
            continue
        breath = min(_LONGEST_BREATH, log2(gap / usual)) + _REST * (after.onset - before.end >= usual)
        left = stops[after.bar] - after.onset
        begins_bar, usual_pickup = earlier == 0, left == pickup
        most = 2 * earlier < in_bar[after.bar] and 2 * left > _ticks(bars[after.bar].length)
        leads = (begins_bar or most) and not tied[after.bar]
        where = after.bar if leads else after.bar + 1
        if leads and not begins_bar:
            share = 1.0 if usual_pickup else _OTHER_PICKUP_IN_BAR
        else:
            share = 1.0 if usual_pickup or (begins_bar and not pickup) else _OTHER_PICKUP
        breaths[where] = max(breaths[where], share * breath)
    return breaths


def _pickup(bars: Sequence[Bar], attacks: Sequence[_Attack], stops: Sequence[int]) -> int:
    """How much the tune begins before a bar line, with a bar of its own or behind rests; 0 where it begins with one."""
    if not attacks:
        return 0
    first = attacks[0]
    before_line = stops[first.bar] - first.onset
    return 0 if before_line >= _ticks(bars[first.bar].meter.bar_length) else before_line
