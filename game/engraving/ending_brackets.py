"""The brackets of endings above one line of music, continued where an ending goes on from the line before. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from game.engraving.shapes import Box, System, Text, TextExtent, TextKind
from game.engraving.skyline import Skyline
from game.engraving.strokes import frame
from game.engraving.text_extents import TextMeasure
from game.music.score import Bar

_ABOVE: Final = 0.5
_AROUND_NUMBER: Final = 0.45
# Between a bracket's end and the next one's beginning at the same bar line.
_BETWEEN: Final = 0.4
_MOST_NUMBERS_SAID: Final = 2


@dataclass(frozen=True, slots=True)
class _Bracket:
    """The part of a bracket on one line: from x to x, its number, and which of its ends are turned down."""

    left: float
    right: float
    label: str
    opens: bool
    closes: bool


def place_brackets(system: System, bars: Sequence[Bar], measure: TextMeasure, skyline: Skyline) -> None:
    """Draw the brackets of a line and letter their numbers, above all that stands there already.

    A bracket that began on the line before says so: its number stands in round brackets and its left end is open.
    The right end is turned down where the music goes back, and open at a last ending (trade).
    """
    brackets = [(bracket, measure(TextKind.ENDING, bracket.label)) for bracket in _brackets(system, bars)]
    level = min((_top(bracket, extent, skyline) for bracket, extent in brackets), default=system.top_line)
    for bracket, extent in brackets:
        # All on one level, but where a number is wider than its bars and reaches into the next bracket.
        top = min(level, _top(bracket, extent, skyline))
        baseline = top + _AROUND_NUMBER + extent.rise
        number = Text(TextKind.ENDING, bracket.label, bracket.left + _AROUND_NUMBER, baseline, extent)
        box = Box(bracket.left, top, _right(bracket, extent), number.box.bottom)
        system.texts.append(number)
        system.ground.extend(frame(box, left=bracket.opens, right=bracket.closes, foot=False))
        skyline.add((box,))


def _right(bracket: _Bracket, extent: TextExtent) -> float:
    return max(bracket.right, bracket.left + extent.width + 2 * _AROUND_NUMBER)


def _top(bracket: _Bracket, extent: TextExtent, skyline: Skyline) -> float:
    """How high a bracket must reach so that nothing below it is touched."""
    height = extent.rise + extent.drop + 2 * _AROUND_NUMBER
    return skyline.top_over(bracket.left, _right(bracket, extent)) - _ABOVE - height


def _brackets(system: System, bars: Sequence[Bar]) -> Iterator[_Bracket]:
    edges = (_music_left(system), *system.bar_ends)
    run: list[int] = []
    for place, index in enumerate(system.bars):
        marks = bars[index].marks
        if run and (marks.ending_starts or not marks.endings):
            yield _bracket(system, bars, run, edges)
            run = []
        if marks.endings:
            run.append(place)
    if run:
        yield _bracket(system, bars, run, edges)


def _bracket(system: System, bars: Sequence[Bar], run: Sequence[int], edges: Sequence[float]) -> _Bracket:
    first, last = (bars[system.bars[place]].marks for place in (run[0], run[-1]))
    label = ending_label(first.endings)
    return _Bracket(
        edges[run[0]],
        max(edges[run[-1] + 1] - _BETWEEN, edges[run[0]] + _BETWEEN),
        label if first.ending_starts else f"({label})",
        opens=first.ending_starts,
        closes=last.ending_stops and bool(last.repeat_end),
    )


def ending_label(numbers: Sequence[int]) -> str:
    """What stands under a bracket: "1.", "1, 2." or, for three and more in a row, "1-3."."""
    in_a_row = list(numbers) == list(range(numbers[0], numbers[0] + len(numbers)))
    if len(numbers) > _MOST_NUMBERS_SAID and in_a_row:
        return f"{numbers[0]}–{numbers[-1]}."
    return f"{', '.join(map(str, numbers))}."


def _music_left(system: System) -> float:
    """Where the first bar of a line begins, behind clef and signature."""
    return max((shape.box.right for shape in system.opening), default=system.left)
