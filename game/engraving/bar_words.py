"""What marks the start and the end of a bar, above a line of music: section words in boxes, segno and coda, and the
words of jumps. Pure.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from game.engraving.engraver import UNITS_PER_SPACE
from game.engraving.shapes import Box, Shape, System, Text, TextExtent, TextKind
from game.engraving.skyline import Skyline
from game.engraving.strokes import frame
from game.engraving.svg_reader import RawSign, RawText
from game.engraving.text_extents import TextMeasure

_ABOVE: Final = 0.55
# Between things side by side, and between a section word and its box.
_BESIDE: Final = 0.6
_AROUND: Final = 0.35


def place_starts(
    system: System, sections: Sequence[RawText], signs: Sequence[RawSign], measure: TextMeasure, skyline: Skyline
) -> None:
    """Put section words in boxes and signs side by side above the beginnings of their bars."""
    for place, bar in enumerate(system.bars):
        words = [(text.text, measure(TextKind.SECTION, text.text)) for text in sections if text.bar == bar]
        marked = [sign.shape for sign in signs if sign.bar == bar]
        if not words and not marked:
            continue
        width = sum(extent.width + 2 * _AROUND for _, extent in words) + sum(_width(shape) for shape in marked)
        width += _BESIDE * (len(words) + len(marked) - 1)
        start = system.bar_ends[place - 1] if place else system.left
        left = max(min(start, skyline.right - width), system.left)
        foot = skyline.top_over(left, left + width) - _ABOVE
        for word, extent in words:
            box = _boxed(system, word, left, foot, extent)
            skyline.add((box,))
            left = box.right + _BESIDE
        for shape in marked:
            moved = moved_shape(shape, left - shape.box.left, foot - shape.box.bottom)
            system.ground.append(moved)
            skyline.add((moved.box,))
            left = moved.box.right + _BESIDE


def place_ends(system: System, words: Sequence[RawText], measure: TextMeasure, skyline: Skyline) -> None:
    """Let "Fine", "To Coda" and the words of jumps end with their bar, one above the other where there are several.

    They act at the end of the bar and belong before its bar line (trade).
    """
    for text in words:
        extent = measure(TextKind.WORDS, text.text)
        end = system.bar_ends[system.bars.index(text.bar)]
        right = min(max(end, system.left + extent.width), skyline.right)
        baseline = skyline.top_over(right - extent.width, right) - _ABOVE - extent.drop
        placed = Text(TextKind.WORDS, text.text, right, baseline, extent, ends_at_x=True)
        system.texts.append(placed)
        skyline.add((placed.box,))


def moved_shape(shape: Shape, right: float, down: float) -> Shape:
    """The same outline elsewhere."""
    dx, dy = round(right * UNITS_PER_SPACE), round(down * UNITS_PER_SPACE)
    return replace(shape, svg=f'<g transform="translate({dx},{dy})">{shape.svg}</g>', box=shape.box.moved(right, down))


def _boxed(system: System, word: str, left: float, foot: float, extent: TextExtent) -> Box:
    """Letter a section word and draw the box around it, standing on `foot`."""
    baseline = foot - _AROUND - extent.drop
    text = Text(TextKind.SECTION, word, left + _AROUND, baseline, extent)
    box = Box(left, text.box.top - _AROUND, text.box.right + _AROUND, foot)
    system.texts.append(text)
    system.ground.extend(frame(box))
    return box


def _width(shape: Shape) -> float:
    return shape.box.right - shape.box.left
