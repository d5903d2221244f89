"""A slip of paper that is laid over music, so that the eyes must go ahead. Kept by its size: it moves bar by bar."""

from functools import lru_cache

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.ground import draw_sheet, under_colour
from game.desk.sheet import Sheet
from game.desk.theme import Theme

_MARGIN_PX = 24


def draw_cover(canvas: Canvas, rect: pygame.Rect) -> None:
    """Cover these pixels, with a soft shadow round them."""
    image = _image(rect.size, canvas.sheet.size, canvas.theme)
    canvas.surface.blit(image, rect.move(-_MARGIN_PX, -_MARGIN_PX))


@lru_cache(maxsize=8)
def _image(size: tuple[int, int], window: tuple[int, int], theme: Theme) -> pygame.Surface:
    width, height = size
    image = pygame.Surface((width + 2 * _MARGIN_PX, height + 2 * _MARGIN_PX), pygame.SRCALPHA)
    canvas = Canvas(image, Sheet(window), theme)
    draw_sheet(canvas, pygame.Rect((_MARGIN_PX, _MARGIN_PX), size), under_colour(theme), blur=3)
    return image
