"""A line of music on a slip of its own that lies on the sheet face down, a little askew: its staff shines through."""

import math
from functools import lru_cache
from typing import Final

import pygame

from game.desk import pencil
from game.desk.kit.boxed_key import draw_key
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.ground import draw_sheet, under_colour
from game.desk.kit.inked import draw_ink
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, Colour, Theme
from game.desk.typography import Face

ASKEW: Final = 2.2
"""Degrees against the clock."""

_TITLE_SIZE, _BELOW_SIZE = 25.0, 21.0
_MARGIN_PX, _SOFT = 20, 6


def draw_face_down(
    canvas: Canvas, room: tuple[float, float, float, float], title: str, below: str, key: str = ""
) -> pygame.Rect:
    """The slip in its room (left, top, width, height, in units), what it is, a line below that, and the key that turns
    it over, if one does; returns what can be clicked.
    """
    left, top, width, height = room
    theme = canvas.theme
    colour = blend(under_colour(theme), theme.edge, 0.25)
    rect = canvas.rect(*room)
    _lay_askew(canvas, rect, colour)
    slope = math.tan(math.radians(ASKEW))
    for line in range(5):
        y, reach = top + height * 0.17 + 8 * line, width / 2 - 18
        ends = [(left + 18, y + slope * reach), (left + width - 18, y - slope * reach)]
        draw_ink(canvas, ends, 1.2, blend(colour, theme.pencil, 0.24))
    title_width = canvas.width_of(title, Style(Face.TITLE, _TITLE_SIZE, theme.ink))
    # Long words are set smaller, as far as small type goes.
    size = max(_BELOW_SIZE, min(_TITLE_SIZE, _TITLE_SIZE * (width - 44) / max(1.0, title_width)))
    _write_askew(canvas, title, (left + 22, top + height - 44), Face.TITLE, size, theme.ink)
    _write_askew(canvas, below, (left + 24, top + height - 14), Face.ITALIC, _BELOW_SIZE, theme.pencil)
    if key:
        draw_key(canvas, key, (left + width - 48, top + height - 29), theme.ink)
    return rect


def _lay_askew(canvas: Canvas, rect: pygame.Rect, colour: Colour) -> None:
    """The sheet with its grain, turned, and its shadow below it."""
    turned, soft = _askew(rect.size, colour, canvas.theme)
    x, y = rect.center
    canvas.surface.blit(soft, soft.get_rect(center=(x + canvas.px(1), y + canvas.px(4))))
    canvas.surface.blit(turned, turned.get_rect(center=(x, y)))


@lru_cache(maxsize=4)
def _askew(size: tuple[int, int], colour: Colour, theme: Theme) -> tuple[pygame.Surface, pygame.Surface]:
    """The turned sheet and its shadow. Kept and given out again: do not draw on them."""
    width, height = size
    flat = pygame.Surface((width + 4, height + 4), pygame.SRCALPHA)
    draw_sheet(Canvas(flat, Sheet(size), theme), pygame.Rect(2, 2, width, height), colour, blur=0)
    turned = pygame.transform.rotozoom(flat, ASKEW, 1.0)
    shade = turned.copy()
    shade.fill((30, 20, 5, 255), special_flags=pygame.BLEND_RGBA_MULT)
    wide = pygame.Surface((shade.get_width() + 2 * _MARGIN_PX, shade.get_height() + 2 * _MARGIN_PX), pygame.SRCALPHA)
    wide.blit(shade, (_MARGIN_PX, _MARGIN_PX))
    small = pygame.transform.smoothscale(wide, (wide.get_width() // _SOFT, wide.get_height() // _SOFT))
    soft = pygame.transform.smoothscale(small, wide.get_size())
    soft.fill((255, 255, 255, 150 if theme is NIGHT else 90), special_flags=pygame.BLEND_RGBA_MULT)
    return turned, soft


def _write_askew(canvas: Canvas, text: str, at: tuple[float, float], face: Face, size: float, colour: Colour) -> None:
    """Words in pencil, turned as the slip is; their left end and their baseline are at about `at`."""
    px = canvas.px(size)
    image = pencil.letters(text, face, px, colour)
    turned = pygame.transform.rotozoom(image, ASKEW, 1.0)
    x, baseline = canvas.point(at)
    canvas.surface.blit(turned, (x, baseline - round(0.8 * px) - (turned.get_height() - image.get_height())))
