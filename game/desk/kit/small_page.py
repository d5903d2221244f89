"""A small page for some bars of a tune: how far its reading has come is how it is filled."""

from enum import Enum, auto
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Point, blend
from game.desk.kit.inked import draw_dot, draw_ink
from game.desk.theme import Colour

SMALL_PAGE: Final = (22.0, 29.0)
"""Width and height, in units."""


_DROP = 11.0


class PageMark(Enum):
    """What the reading of some bars has earned."""

    NONE = auto()
    FOUND = auto()
    IN_TIME = auto()
    SIGNED_OFF = auto()


def draw_small_page(canvas: Canvas, mark: PageMark, at: Point, seed: int = 0, *, read: bool = False) -> pygame.Rect:
    """A page, its upper left corner `at`: empty, hatched in pencil, half in ink, or full of ink and signed. A drop of
    ink on its corner says that its bars were right when they were `read` at sight: a mark apart. Returns its pixels.
    """
    rect = _draw_page(canvas, mark, at, seed)
    if read:
        draw_dot(canvas, (at[0] + SMALL_PAGE[0] - 1, at[1] + 1), _DROP, canvas.theme.read, ring=canvas.theme.paper)
    return rect


def _draw_page(canvas: Canvas, mark: PageMark, at: Point, seed: int) -> pygame.Rect:
    (x, y), (width, height), theme = at, SMALL_PAGE, canvas.theme
    rect = canvas.rect(x, y, width, height)
    if mark is PageMark.SIGNED_OFF:
        canvas.surface.fill(theme.read, rect)
        signature = [(x + 4, y + 22), (x + 9, y + 17), (x + 11, y + 22), (x + 18, y + 15)]
        draw_ink(canvas, signature, 1.6, theme.paper)
        return rect
    if mark is PageMark.IN_TIME:
        half = rect.copy()
        half.top += rect.height // 2
        half.height = rect.bottom - half.top
        canvas.surface.fill(theme.read, half)
    colour = {PageMark.NONE: blend(theme.paper, theme.pencil, 0.55), PageMark.IN_TIME: theme.read}.get(
        mark, theme.pencil
    )
    _draw_outline(canvas, at, colour, seed)
    if mark is PageMark.FOUND:
        for row in range(3):
            low = y + 10 + 7 * row
            draw_pencil(canvas, [(x + 3, low), (x + width - 3, low - 6)], 1.5, theme.pencil, seed + row)
    return rect


def _draw_outline(canvas: Canvas, at: Point, colour: Colour, seed: int) -> None:
    (x, y), (width, height) = at, SMALL_PAGE
    corners = [(x, y), (x + width, y + 0.5), (x + width - 0.5, y + height), (x + 0.3, y + height - 0.4), (x, y)]
    draw_pencil(canvas, corners, 1.4, colour, 90 + seed)
