"""A slip that lies face down on music and is turned up over its upper edge: from its lower edge on, what is below it is
seen.
"""

from typing import Final

import pygame

from game.desk.kit.canvas import Canvas, blend
from game.desk.kit.ground import draw_sheet, under_colour

TURN_UP_S: Final = 0.35
"""So long a slip is turned up."""

_BEND, _SHADOW = 26.0, 14.0
_SHADOW_STEPS: Final = 5
_SHADOW_COLOUR: Final = (45, 34, 16)


def draw_turned_up(canvas: Canvas, cover: pygame.Rect, share: float) -> pygame.Rect:
    """What is still covered: all of it at 0, nothing at 1. Returns its pixels, without the shadow below its edge."""
    ease = share * share * (3 - 2 * share)
    left = pygame.Rect(cover.left, cover.top, cover.width, round(cover.height * (1 - ease)))
    if not left.height:
        return left
    colour = under_colour(canvas.theme)
    if share > 0:
        _draw_shadow(canvas, left)
    draw_sheet(canvas, left, colour, blur=0)
    if share > 0:
        _draw_bend(canvas, left, ease)
    return left


def _draw_shadow(canvas: Canvas, left: pygame.Rect) -> None:
    step = max(1, canvas.px(_SHADOW / _SHADOW_STEPS))
    shade = pygame.Surface((left.width, step * _SHADOW_STEPS), pygame.SRCALPHA)
    for number in range(_SHADOW_STEPS):
        alpha = round(70 * (1 - number / _SHADOW_STEPS) ** 2)
        shade.fill((*_SHADOW_COLOUR, alpha), (0, number * step, left.width, step))
    canvas.surface.blit(shade, left.bottomleft)


def _draw_bend(canvas: Canvas, left: pygame.Rect, ease: float) -> None:
    """Its edge is lifted towards the light: the higher, the wider."""
    colour, theme = under_colour(canvas.theme), canvas.theme
    high = min(left.height, canvas.px(_BEND * (0.4 + ease)))
    for row in range(high):
        lit = blend(colour, theme.paper, row / max(1, high))
        canvas.surface.fill(lit, (left.left, left.bottom - high + row, left.width, 1))
    canvas.surface.fill(blend(colour, theme.pencil, 0.35), (left.left, left.bottom - 1, left.width, 1))
