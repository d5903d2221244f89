"""The turned-up corner: the next thing, always at the bottom right."""

import math
from functools import lru_cache
from typing import Final

import pygame

from game.desk.kit.boxed_key import draw_key, key_width
from game.desk.kit.canvas import Align, Canvas, Point, Style, blend
from game.desk.kit.ground import BOTTOM_MARGIN, RIGHT_MARGIN, under_colour
from game.desk.kit.inked import draw_ink, draw_shape
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, Theme
from game.desk.typography import Face

CORNER_SIZE: Final = 86.0
"""How far the corner is turned up, in units; with its words it is one thing to click, as high as this."""

_WORDS_SIZE, _BELOW_SIZE = 30.0, 21.0
_TO_KEY, _TO_WORDS = 10.0, 12.0
# Room around the corner in its picture, for its outline.
_AROUND = 4.0
_WHITE = (255, 255, 255)


def draw_corner(canvas: Canvas, words: str, key: str, above: str = "") -> pygame.Rect:
    """The corner, what it leads to and its key, and above them a few quieter words; returns what can be clicked."""
    right, bottom = corner_point(canvas)
    _draw_flap(canvas, right, bottom)
    x, middle = right - CORNER_SIZE - _TO_KEY, bottom - 40
    box_left = x - key_width(canvas, key)
    draw_key(canvas, key, (box_left, middle), canvas.theme.accent)
    words_right = box_left - _TO_WORDS
    style = Style(Face.TITLE, _WORDS_SIZE, canvas.theme.ink)
    canvas.write(words, (words_right, middle + 10), style, Align.RIGHT)
    left = words_right - canvas.width_of(words, style)
    if above:
        quiet = Style(Face.ITALIC, _BELOW_SIZE, canvas.theme.faded)
        canvas.write(above, (x, middle - 33), quiet, Align.RIGHT)
        left = min(left, x - canvas.width_of(above, quiet))
    return canvas.rect(left, bottom - CORNER_SIZE, right - left, CORNER_SIZE)


def corner_point(canvas: Canvas) -> tuple[float, float]:
    """Where the paper's corner would lie if it were not turned up, in units."""
    width, height = canvas.sheet.size
    return width / canvas.sheet.unit - RIGHT_MARGIN, height / canvas.sheet.unit - BOTTOM_MARGIN


def _draw_flap(canvas: Canvas, right: float, bottom: float) -> None:
    unit, before = canvas.sheet.unit, CORNER_SIZE + _AROUND
    at = math.floor((right - before) * unit), math.floor((bottom - before) * unit)
    # The same part of a pixel from its left and top as in the window.
    image = _flap(canvas.sheet, canvas.theme, (right - at[0] / unit, bottom - at[1] / unit))
    canvas.surface.blit(image, at)


@lru_cache(maxsize=4)
def _flap(sheet: Sheet, theme: Theme, tip: Point) -> pygame.Surface:
    """The corner turned up, on nothing; `tip` is where it would lie, in units. Kept and given out again: many shapes
    lie on one another in it, and it is on every picture.
    """
    right, bottom = tip
    surface = pygame.Surface([math.ceil((end + _AROUND) * sheet.unit) for end in tip], pygame.SRCALPHA)
    canvas, size = Canvas(surface, sheet, theme), CORNER_SIZE
    fold = [(right, bottom - size), (right - size, bottom)]
    draw_shape(
        canvas, [(right + 1, bottom - size), (right + 1, bottom + 1), (right - size, bottom + 1)], under_colour(theme)
    )
    for step in range(6):
        reach = size * 0.6 - 3 * step
        shade = [fold[1], (right - reach, bottom - reach), fold[0], (right - size / 4, bottom - size / 4)]
        draw_shape(canvas, shade, (60, 45, 20), alpha=9)
    lit = (58, 56, 52) if theme is NIGHT else blend(theme.paper, _WHITE, 0.45)
    shaded = blend(theme.edge, theme.paper, 0.3)
    for step in range(12):
        share = step / 12
        reach = size * (0.5 + 0.28 * (1 - share))
        draw_shape(canvas, [fold[1], (right - reach, bottom - reach), fold[0]], blend(lit, shaded, share * share))
    reach = size * 0.78
    draw_ink(canvas, [fold[1], (right - reach, bottom - reach), fold[0]], 1.3, blend(lit, theme.pencil, 0.4))
    return surface
