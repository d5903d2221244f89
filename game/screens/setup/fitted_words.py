"""Sentences one below the other, as large as their room allows; the last ones are left out where it has none."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.fitted_line import SMALLEST
from game.desk.kit.lines_of_text import LEADING, draw_text_lines, text_lines

_AFTER: Final = 5.0
"""From the end of a sentence to the next."""


def draw_fitted_words(
    canvas: Canvas, texts: Sequence[tuple[str, Style]], at: tuple[float, float], width: float, bottom: float
) -> float:
    """Set the sentences, the most important first, each in its style or smaller; the baseline of the first is `at`, the
    last stands above `bottom`. Returns the baseline after them.
    """
    x, y = at
    for text, style in _fitting(canvas, texts, width, bottom - y):
        y = draw_text_lines(canvas, text, (x, y), style, width) + _AFTER
    return y


def _fitting(
    canvas: Canvas, texts: Sequence[tuple[str, Style]], width: float, room: float
) -> Sequence[tuple[str, Style]]:
    smaller = list(texts)
    for _ in range(int(max((style.size for _, style in texts), default=0) - SMALLEST) + 1):
        if _height(canvas, smaller, width) <= room:
            return smaller
        smaller = [(text, replace(style, size=max(SMALLEST, style.size - 1))) for text, style in smaller]
    while len(smaller) > 1 and _height(canvas, smaller, width) > room:
        smaller.pop()
    return smaller


def _height(canvas: Canvas, texts: Sequence[tuple[str, Style]], width: float) -> float:
    """From the first baseline to the last."""
    lines = [len(text_lines(canvas, text, style, width)) * LEADING * style.size + _AFTER for text, style in texts]
    return sum(lines) - (LEADING * texts[-1][1].size + _AFTER) if texts else 0.0
