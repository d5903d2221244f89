"""A line of text as large as its room allows: first it is set smaller, down to the least size, and only then cut."""

from dataclasses import replace
from typing import Final

from game.desk.kit.canvas import Canvas, Style
from game.desk.typography import shortened

SMALLEST: Final = 20.0
"""Nothing is set smaller, in units."""

_STEP: Final = 1.0


def fitted(canvas: Canvas, text: str, style: Style, width: float) -> tuple[str, Style]:
    """The text and the style to set it in so that it is no wider than `width` units; names of files and devices, which
    may be of any length, end in an ellipsis.
    """
    while style.size > SMALLEST and canvas.width_of(text, style) > width:
        style = replace(style, size=max(SMALLEST, style.size - _STEP))
    if canvas.width_of(text, style) <= width:
        return text, style
    return shortened(text, style.face, canvas.px(style.size), canvas.px(width)), style
