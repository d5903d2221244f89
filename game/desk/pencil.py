"""The teacher's pencil: strokes with a little tremor and grain, small noteheads, circled string numbers, notes written.

A drawing is asked for by what it shows and a seed, so that the same mark looks the same on every frame; it is made
once and kept.
"""

import math
import random
from collections.abc import Sequence
from functools import lru_cache
from itertools import chain, cycle, pairwise

import pygame

from game.desk.theme import Colour
from game.desk.typography import Face, font

Point = tuple[float, float]
_FINE = 3
_GRAIN_PX = 192
# How far the hand strays for each step, in stroke widths.
_TREMOR = 0.03
# So many movements of a hand are thrown once, and each stroke begins somewhere among them: to throw three for each dot
# takes longer than all of drawing it.
_MOVEMENTS = 4096


@lru_cache(maxsize=1)
def _grain() -> pygame.Surface:
    """The tooth of the paper: a tile of uneven alpha that eats into a stroke."""
    chance = random.Random(7)
    pixels = bytearray()
    for _ in range(_GRAIN_PX * _GRAIN_PX):
        pixels += bytes((255, 255, 255, min(255, int(chance.triangular(130, 380, 300)))))
    return pygame.image.frombuffer(bytes(pixels), (_GRAIN_PX, _GRAIN_PX), "RGBA")


@lru_cache(maxsize=1)
def _movements() -> tuple[float, ...]:
    """Normally distributed by chance, around 0 with a deviation of 1."""
    chance = random.Random(8)
    return tuple(chance.gauss(0.0, 1.0) for _ in range(_MOVEMENTS))


def _with_grain(mask: pygame.Surface) -> pygame.Surface:
    for x in range(0, mask.get_width(), _GRAIN_PX):
        for y in range(0, mask.get_height(), _GRAIN_PX):
            mask.blit(_grain(), (x, y), special_flags=pygame.BLEND_RGBA_MULT)
    return mask


@lru_cache(maxsize=600)
def drawing(
    strokes: tuple[tuple[Point, ...], ...], size: tuple[int, int], width: float, colour: Colour, seed: int
) -> pygame.Surface:
    """Strokes (rows of points in pixels) on a transparent surface of `size`, `width` pixels thick."""
    chance = random.Random(seed)
    fine = pygame.Surface((size[0] * _FINE, size[1] * _FINE), pygame.SRCALPHA)
    for stroke in strokes:
        for x, y, radius, alpha in _trace(stroke, width, chance):
            pygame.draw.circle(fine, (*colour, alpha), (x * _FINE, y * _FINE), max(1.0, radius * _FINE))
    return _with_grain(pygame.transform.smoothscale(fine, size))


def _trace(stroke: Sequence[Point], width: float, chance: random.Random) -> list[tuple[float, float, float, int]]:
    """Dots along a stroke: x, y, radius, alpha. The hand drifts slowly and presses unevenly."""
    dots = []
    drift_x = drift_y = 0.0
    pressure = 0.85
    thrown, first = _movements(), chance.randrange(_MOVEMENTS)
    movement = chain(thrown[first:], cycle(thrown)).__next__
    stray = _TREMOR * width
    for (x0, y0), (x1, y1) in pairwise(stroke):
        steps = max(1, int(math.hypot(x1 - x0, y1 - y0) * 1.5))
        for step in range(steps + 1):
            drift_x = 0.96 * drift_x + movement() * stray
            drift_y = 0.96 * drift_y + movement() * stray
            pressure = min(1.0, max(0.6, pressure + movement() * 0.03))
            along = step / steps
            dots.append(
                (
                    x0 + (x1 - x0) * along + drift_x,
                    y0 + (y1 - y0) * along + drift_y,
                    width / 2 * (0.8 + 0.25 * pressure),
                    int(235 * pressure),
                )
            )
    return dots


def line(length: float, width: float, colour: Colour, seed: int, *, upright: bool = False) -> pygame.Surface:
    """A single straight stroke, lying or upright, with a margin of `width` around it."""
    pad = math.ceil(width * 1.5) + 1
    if upright:
        points: tuple[Point, ...] = ((pad, pad), (pad + width * 0.3, length + pad))
        return drawing((points,), (2 * pad + 1, math.ceil(length) + 2 * pad), width, colour, seed)
    points = ((pad, pad), (length + pad, pad - width * 0.2))
    return drawing((points,), (math.ceil(length) + 2 * pad, 2 * pad + 1), width, colour, seed)


def ring(diameter: float, width: float, colour: Colour, seed: int) -> pygame.Surface:
    """A circle drawn in one go, its ends a little apart, as hands do it."""
    pad = math.ceil(width) + 2
    radius = diameter / 2
    centre = radius + pad
    chance = random.Random(seed)
    start = chance.uniform(-2.4, -1.6)
    points = tuple(
        (
            centre + (radius + 0.03 * diameter * turn / 40) * math.cos(start + turn * 0.17),
            centre + (radius - 0.02 * diameter * turn / 40) * math.sin(start + turn * 0.17),
        )
        for turn in range(39)
    )
    side = math.ceil(diameter) + 2 * pad
    return drawing((points,), (side, side), width, colour, seed)


def notehead(space_px: float, colour: Colour, seed: int) -> pygame.Surface:
    """A small notehead, shaded in with close strokes: smaller than a printed one, and not as black."""
    width, height = space_px * 1.05, space_px * 0.74
    pad = 2.0
    lean = 0.35
    thick = max(1.2, space_px * 0.11)

    def at(turn: float, share: float) -> Point:
        """A point of the leaning ellipse, `share` of the way out."""
        x, y = share * width / 2 * math.cos(turn), share * height / 2 * math.sin(turn)
        return (
            pad + width / 2 + x * math.cos(lean) + y * math.sin(lean),
            pad + height * 0.65 - x * math.sin(lean) + y * math.cos(lean),
        )

    rings = tuple(tuple(at(step * math.tau / 16, share) for step in range(17)) for share in (0.95, 0.68, 0.4, 0.15))
    size = (math.ceil(width + 2 * pad), math.ceil(height * 1.3 + 2 * pad))
    return drawing(rings, size, thick, colour, seed)


@lru_cache(maxsize=300)
def letters(text: str, face: Face, px: int, colour: Colour) -> pygame.Surface:
    """Words written in pencil."""
    return _with_grain(font(face, px).render(text, True, colour).convert_alpha())


def circled_text(text: str, px: int, colour: Colour, seed: int) -> pygame.Surface:
    """A string number in its circle: how guitar music names strings (trade)."""
    figure = letters(text, Face.FIGURES, px, colour)
    circle = ring(px * 1.25, max(1.5, px * 0.085), colour, seed)
    surface = circle.copy()
    surface.blit(figure, figure.get_rect(center=(surface.get_width() // 2, surface.get_height() // 2 + px // 24)))
    return surface
