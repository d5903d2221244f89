"""A slip of paper with a message: it slides from the top edge onto the desk and never covers a key."""

from typing import Final

import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.ground import draw_sheet
from game.desk.theme import Theme
from game.desk.typography import Face, wrapped

SLIP_WIDTH: Final = 520.0
"""Of a message in one line, in units; a longer one has more lines, each as wide."""

_LINE, _PADDING, _SIZE = 27.0, 20.0, 22.0
_FIRST_BASELINE = 29.0


def slip_height(canvas: Canvas, text: str) -> float:
    """How high the slip of a message is, in units: 44 for one line."""
    return 17 + _LINE * len(_lines(canvas, text))


def draw_slip(canvas: Canvas, text: str, top: float, *, shown: float = 1.0) -> pygame.Rect:
    """The slip, in the middle of the window, its upper edge at `top` units once it has slid in; `shown` goes from 0,
    above the window, to 1. Returns the pixels it covers.
    """
    height = slip_height(canvas, text)
    left = (canvas.sheet.size[0] / canvas.sheet.unit - SLIP_WIDTH) / 2
    at = top - (1 - shown) * (top + height + 12)
    rect = canvas.rect(left, at, SLIP_WIDTH, height)
    draw_sheet(canvas, rect, _paper(canvas.theme), blur=5)
    style = Style(Face.TEXT, _SIZE, canvas.theme.ink)
    for number, line in enumerate(_lines(canvas, text)):
        canvas.write(line, (left + _PADDING, at + _FIRST_BASELINE + number * _LINE), style)
    return rect


def _lines(canvas: Canvas, text: str) -> tuple[str, ...]:
    return wrapped(text, Face.TEXT, canvas.px(_SIZE), canvas.px(SLIP_WIDTH - 2 * _PADDING))


def _paper(theme: Theme) -> tuple[int, int, int]:
    """Fresher than the sheet below it."""
    red, green, blue = (min(255, value + 6) for value in theme.paper)
    return red, green, blue
