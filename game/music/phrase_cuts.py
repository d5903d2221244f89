"""How a tune is divided into pages: about so many bars each, where it breathes and the page divides it."""

from collections.abc import Sequence
from itertools import pairwise
from math import inf

from game.music.phrases import BarStart, bar_starts
from game.music.score import Bar

_REGULAR, _HALF_WAY = 1.5, 0.3
_AGAIN = 2.0
_BREATH = 2.0
_PAGE = 1.0
_TIE = 20.0
_SILENT = 20.0
_BAR_MORE, _BAR_LESS, _TOO_SHORT, _TOO_LONG = 1.0, 1.2, 2.5, 50.0


def phrase_cuts(bars: Sequence[Bar], about: int) -> list[tuple[int, int]]:
    """The first bar of each page of a written-out tune, and the one behind its last, in order and without a gap.

    Where the page divides the tune, a page ends. Between, of all ways to divide it the one is taken that agrees most
    with breaths, with bars that begin as a section began, and with the regular count from the last division; and that
    goes least off `about` bars a page. Three quarters to one and a half of them are usual, never more; less has only a
    section that is short itself. What would be a page of one bar goes with the page before it, or after it at the
    beginning. A tie over the bar line is cut only where notes are tied over so many that no page could end between.
    """
    starts = bar_starts(bars)
    cuts: list[tuple[int, int]] = []
    for section, stop in _sections(starts):
        first = section
        if cuts and _counted(starts, section, stop) < min(2, about):
            first, _ = cuts.pop()
        elif cuts and _counted(starts, 0, section) < min(2, about):
            cuts, first = [], 0
        cuts += _cut(starts, first, stop, about)
    return cuts


def _sections(starts: Sequence[BarStart]) -> list[tuple[int, int]]:
    firsts = [index for index, start in enumerate(starts) if index == 0 or (start.divides and not start.tied)]
    return list(pairwise((*firsts, len(starts))))


def _counted(starts: Sequence[BarStart], first: int, stop: int) -> int:
    """How many of these bars people count."""
    return sum(start.counts for start in starts[first:stop])


def _cut(starts: Sequence[BarStart], first: int, last: int, about: int) -> list[tuple[int, int]]:
    """The pages of a section: from the best way to divide what stands before each bar to that before the next."""
    worth = _worth(starts[first:last], about)
    best, begins = [0.0], [0]
    for stop in range(1, last - first + 1):
        most, begin, length, sounds = -inf, stop - 1, 0, False
        for start in range(stop - 1, -1, -1):
            length, sounds = length + starts[first + start].counts, sounds or starts[first + start].sounds
            value = best[start] + worth[start] - _off(length, about) - (0.0 if sounds else _SILENT)
            if value > most:
                most, begin = value, start
            if length > 1.5 * about:
                break
        best.append(most)
        begins.append(begin)
    pages, stop = [], last - first
    while stop:
        pages.append((first + begins[stop], first + stop))
        stop = begins[stop]
    return pages[::-1]


def _off(length: int, about: int) -> float:
    """What it costs a page to have so many bars that people count."""
    if length > 1.5 * about:
        return _TOO_LONG * (length - 1.5 * about)
    more, less = max(0, length - about), max(0, about - length)
    short = max(0.0, 0.75 * about - length)
    return 4 / about * (_BAR_MORE * more + _BAR_LESS * less + _TOO_SHORT * short)


def _worth(starts: Sequence[BarStart], about: int) -> list[float]:
    """What it is worth that a page begins with each bar of a section; it does with the first."""
    worth, counted, leads_in = [0.0], int(starts[0].counts), 0
    for before, start in pairwise(starts):
        value = _regular(counted, about) + _BREATH * start.breath + _AGAIN * start.again - _PAGE
        if start.tied:
            # The phrase begins with the note that is tied into this bar.
            worth[-1], value = worth[-1] + max(0.0, value), -_TIE
        if before.counts:
            leads_in = len(worth)
        else:
            # What leads in, or is waited, goes with what it leads to.
            worth[leads_in], value = max(worth[leads_in], value), -_TIE
        worth.append(value)
        counted += start.counts
    return worth


def _regular(counted: int, about: int) -> float:
    if counted % about == 0:
        return _REGULAR
    return _HALF_WAY if 2 * counted % about == 0 else 0.0
