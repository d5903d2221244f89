"""Lines of the pen: smooth, of even blackness, with a round nib. Beside the pencil, which trembles and has grain."""

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import pygame

from game.desk.kit.canvas import Canvas, Point
from game.desk.theme import Colour

_FINE = 3


def draw_ink(canvas: Canvas, points: Sequence[Point], width: float, colour: Colour) -> None:
    """A line through places, `width` units thick."""
    pixels = [(x * canvas.sheet.unit, y * canvas.sheet.unit) for x, y in points]
    thick = width * canvas.sheet.unit
    margin = math.ceil(thick) + 2
    left = math.floor(min(x for x, _ in pixels)) - margin
    top = math.floor(min(y for _, y in pixels)) - margin
    line = tuple((round(x - left, 2), round(y - top, 2)) for x, y in pixels)
    canvas.surface.blit(_line(line, thick, colour, margin), (left, top))


def draw_shape(canvas: Canvas, points: Sequence[Point], colour: Colour, alpha: int = 255) -> None:
    """A filled shape with smooth edges."""
    pixels = [(x * canvas.sheet.unit, y * canvas.sheet.unit) for x, y in points]
    left, top = math.floor(min(x for x, _ in pixels)) - 1, math.floor(min(y for _, y in pixels)) - 1
    outline = tuple((round(x - left, 2), round(y - top, 2)) for x, y in pixels)
    canvas.surface.blit(_shape(outline, colour, alpha), (left, top))


def draw_dot(canvas: Canvas, middle: Point, diameter: float, colour: Colour, *, ring: Colour | None = None) -> None:
    """A round dot, with a thin ring of another colour around it if wished."""
    image = _dot(diameter * canvas.sheet.unit, colour, ring, max(1.0, 1.6 * canvas.sheet.unit))
    canvas.surface.blit(image, image.get_rect(center=canvas.point(middle)))


def draw_pill(
    canvas: Canvas, middle: Point, size: tuple[float, float], colour: Colour, *, ring: Colour | None = None
) -> None:
    """A dot drawn out to a width, for letters that have no room in a round one; a thin ring around it if wished."""
    unit = canvas.sheet.unit
    image = _pill(size[0] * unit, size[1] * unit, colour, ring, max(1.0, 1.6 * unit))
    canvas.surface.blit(image, image.get_rect(center=canvas.point(middle)))


@lru_cache(maxsize=200)
def _line(points: tuple[Point, ...], thick: float, colour: Colour, margin: int) -> pygame.Surface:
    width = math.ceil(max(x for x, _ in points)) + margin
    height = math.ceil(max(y for _, y in points)) + margin
    fine = pygame.Surface((width * _FINE, height * _FINE), pygame.SRCALPHA)
    fine.fill((*colour, 0))
    radius = max(1.0, thick * _FINE / 2)
    for (x0, y0), (x1, y1) in pairwise(points):
        steps = max(1, int(math.hypot(x1 - x0, y1 - y0) * _FINE / 2))
        for step in range(steps + 1):
            along = step / steps
            at = (x0 + (x1 - x0) * along) * _FINE, (y0 + (y1 - y0) * along) * _FINE
            pygame.draw.circle(fine, (*colour, 255), at, radius)
    return pygame.transform.smoothscale(fine, (width, height))


@lru_cache(maxsize=200)
def _shape(points: tuple[Point, ...], colour: Colour, alpha: int) -> pygame.Surface:
    width, height = (math.ceil(max(values)) + 2 for values in zip(*points, strict=True))
    fine = pygame.Surface((width * _FINE, height * _FINE), pygame.SRCALPHA)
    fine.fill((*colour, 0))
    pygame.draw.polygon(fine, (*colour, alpha), [(x * _FINE, y * _FINE) for x, y in points])
    return pygame.transform.smoothscale(fine, (width, height))


@lru_cache(maxsize=200)
def _dot(diameter: float, colour: Colour, ring: Colour | None, ring_px: float) -> pygame.Surface:
    side = math.ceil(diameter) + 4
    fine = pygame.Surface((side * _FINE, side * _FINE), pygame.SRCALPHA)
    fine.fill((*colour, 0))
    middle = side * _FINE / 2
    pygame.draw.circle(fine, (*colour, 255), (middle, middle), diameter * _FINE / 2)
    if ring:
        pygame.draw.circle(fine, (*ring, 255), (middle, middle), diameter * _FINE / 2, round(ring_px * _FINE))
    return pygame.transform.smoothscale(fine, (side, side))


@lru_cache(maxsize=100)
def _pill(width: float, height: float, colour: Colour, ring: Colour | None, ring_px: float) -> pygame.Surface:
    size = math.ceil(width) + 4, math.ceil(height) + 4
    fine = pygame.Surface((size[0] * _FINE, size[1] * _FINE), pygame.SRCALPHA)
    fine.fill((*colour, 0))
    shape = pygame.Rect(0, 0, round(width * _FINE), round(height * _FINE))
    shape.center = fine.get_rect().center
    pygame.draw.rect(fine, (*colour, 255), shape, border_radius=shape.height // 2)
    if ring:
        pygame.draw.rect(fine, (*ring, 255), shape, round(ring_px * _FINE), border_radius=shape.height // 2)
    return pygame.transform.smoothscale(fine, size)
