"""Running text at places in units: as many lines as it needs, one below the other."""

from typing import Final

from game.desk.kit.canvas import Canvas, Style
from game.desk.typography import wrapped

LEADING: Final = 1.22
"""From line to line, in sizes of the text."""


def text_lines(canvas: Canvas, text: str, style: Style, width: float) -> tuple[str, ...]:
    """The text broken into lines no wider than `width` units."""
    return wrapped(text, style.face, canvas.px(style.size), canvas.px(width))


def draw_text_lines(canvas: Canvas, text: str, at: tuple[float, float], style: Style, width: float) -> float:
    """Set the text, its left end and the baseline of its first line `at`; returns the baseline of a line after it."""
    x, baseline = at
    for line in text_lines(canvas, text, style, width):
        canvas.write(line, (x, baseline), style)
        baseline += LEADING * style.size
    return baseline
