"""The brackets of endings, read from the bars of a MusicXML part, at whichever bar line a program puts their ends.

A bracket that nobody closes runs on to the next one, to an opening sign, to the coda or to a heavy bar line, or to the
end. Where a repeat sign comes first it is read as drawn over its first bar alone: how far it reaches is then told by
the sections (`game.music.sections`), which say so and know the other reading.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element

from game.music.score import BarMarks
from game.text.clean_text import cleaned
from game.tunes.limits import MAX_TIMES

_NUMBERS = re.compile(r"(\d{1,2})\s*\.?\s*[-–]\s*(\d{1,2})|(\d{1,2})")
# Bar lines that end an ending whose bracket the file forgot to close.
_HEAVY = frozenset({"light-light", "light-heavy", "heavy-light", "heavy-heavy", "heavy"})


def with_endings(marks: Sequence[BarMarks], measures: Sequence[Element]) -> list[BarMarks]:
    """The marks with the brackets of these bars; repeat signs are in them already."""
    numbered = list(marks)
    starts, stops = _starts(measures), _stops(measures)
    for bar in sorted({*starts, *_without_start(starts, stops)}):
        numbers = starts.get(bar) or stops[bar]
        last, stopped = _last_of(bar, marks, measures, starts, stops)
        for under in range(bar, last + 1):
            numbered[under] = replace(
                marks[under],
                endings=numbers,
                ending_starts=under == bar,
                ending_stops=stopped and under == last,
            )
    return numbered


def _last_of(
    bar: int,
    marks: Sequence[BarMarks],
    measures: Sequence[Element],
    starts: dict[int, tuple[int, ...]],
    stops: dict[int, tuple[int, ...]],
) -> tuple[int, bool]:
    """The last bar under the bracket that begins at `bar`, and whether it ends there with a hook."""
    for under in range(bar, len(measures)):
        if under > bar and (under in starts or marks[under].repeat_start or marks[under].coda):
            return under - 1, False
        if under in stops:
            return under, True
        if marks[under].repeat_end:
            return bar, True
        if _heavy_right(measures[under]):
            return under, True
    return len(measures) - 1, False


def _without_start(starts: dict[int, tuple[int, ...]], stops: dict[int, tuple[int, ...]]) -> list[int]:
    """Bars in which a bracket stops that begins nowhere."""
    alone = []
    is_open = False
    for bar in sorted({*starts, *stops}):
        is_open = is_open or bar in starts
        if bar in stops:
            if not is_open:
                alone.append(bar)
            is_open = False
    return alone


def _starts(measures: Sequence[Element]) -> dict[int, tuple[int, ...]]:
    """The bars that a bracket begins with, and its numbers. One at a right bar line begins with the next bar."""
    found: dict[int, tuple[int, ...]] = {}
    for bar, at_left, ending in _ends_of_brackets(measures):
        begins = bar if at_left else bar + 1
        if ending.get("type") == "start" and begins < len(measures):
            found.setdefault(begins, _ending_numbers(ending))
    return found


def _stops(measures: Sequence[Element]) -> dict[int, tuple[int, ...]]:
    """The bars that a bracket ends with. One at a left bar line ends with the bar before."""
    found = {}
    for bar, at_left, ending in _ends_of_brackets(measures):
        ends = bar - 1 if at_left else bar
        if ending.get("type") in {"stop", "discontinue"} and ends >= 0:
            found[ends] = _ending_numbers(ending)
    return found


def _ends_of_brackets(measures: Sequence[Element]) -> Iterator[tuple[int, bool, Element]]:
    for bar, measure in enumerate(measures):
        for barline in measure.findall("barline"):
            at_left = barline.get("location") == "left"
            for ending in barline.findall("ending"):
                # In one bar line a hook at the side of the bar itself: both ends of a bracket are written at its left.
                hook = ending.get("type") != "start" and at_left and _starts_here(barline, ending)
                yield bar, at_left and not hook, ending


def _starts_here(barline: Element, stop: Element) -> bool:
    """Whether the bracket that stops at this bar line begins at it too."""
    return any(
        ending.get("type") == "start" and ending.get("number") == stop.get("number")
        for ending in barline.findall("ending")
    )


def _ending_numbers(ending: Element) -> tuple[int, ...]:
    """The numbers of a bracket: "1", "1, 2", "1.-3.", or what is printed over it; of one without a number, 1."""
    for told in (ending.get("number"), ending.text):
        numbers: set[int] = set()
        for first, last, single in _NUMBERS.findall(cleaned(told, 40)):
            numbers.update(range(int(first), min(int(last), MAX_TIMES) + 1) if first else [int(single)])
        kept = tuple(sorted(number for number in numbers if 1 <= number <= MAX_TIMES))
        if kept:
            return kept
    return (1,)


def _heavy_right(measure: Element) -> bool:
    return any(
        barline.get("location", "right") == "right" and cleaned(barline.findtext("bar-style")) in _HEAVY
        for barline in measure.findall("barline")
    )
