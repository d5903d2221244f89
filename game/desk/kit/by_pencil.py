"""Strokes and words of the pencil, at places in units."""

import math
from collections.abc import Sequence
from itertools import pairwise

import pygame

from game.desk import pencil
from game.desk.kit.canvas import Align, Canvas, Point, Style
from game.desk.theme import Colour
from game.desk.typography import font


def draw_pencil(
    canvas: Canvas,
    points: Sequence[Point],
    width: float,
    colour: Colour,
    seed: int,
    *,
    dashes: tuple[float, float] | None = None,
) -> None:
    """A stroke through places, `width` units thick; `dashes` are the lengths of a dash and of the gap behind it."""
    unit = canvas.sheet.unit
    margin = math.ceil(2 * width * unit) + 3
    left = math.floor(min(x for x, _ in points) * unit) - margin
    top = math.floor(min(y for _, y in points) * unit) - margin
    line = [(round(x * unit - left, 2), round(y * unit - top, 2)) for x, y in points]
    right, bottom = (math.ceil(max(values)) + margin for values in zip(*line, strict=True))
    strokes = _dashed(line, dashes[0] * unit, dashes[1] * unit) if dashes else (tuple(line),)
    canvas.surface.blit(pencil.drawing(strokes, (right, bottom), width * unit, colour, seed), (left, top))


def draw_ring(canvas: Canvas, middle: Point, diameter: float, width: float, colour: Colour, seed: int) -> None:
    """A circle drawn in one go."""
    image = pencil.ring(diameter * canvas.sheet.unit, width * canvas.sheet.unit, colour, seed)
    canvas.surface.blit(image, image.get_rect(center=canvas.point(middle)))


def draw_tick(canvas: Canvas, at: Point, size: float, colour: Colour, seed: int) -> None:
    """A tick, as a teacher makes it: its lower point a little right of `at`, about `size` units high."""
    x, y = at
    points = [(x, y - 0.25 * size), (x + 0.3 * size, y + 0.15 * size), (x + 0.9 * size, y - 0.75 * size)]
    draw_pencil(canvas, points, 0.14 * size, colour, seed)


def pencil_words(canvas: Canvas, text: str, at: Point, style: Style, align: Align = Align.LEFT) -> pygame.Rect:
    """Words written in pencil, their left end, middle or right end and their baseline `at`; returns their pixels."""
    px = canvas.px(style.size)
    image = pencil.letters(text, style.face, px, style.colour)
    x, baseline = canvas.point(at)
    shift = {Align.LEFT: 0, Align.CENTRE: image.get_width() // 2, Align.RIGHT: image.get_width()}[align]
    return canvas.surface.blit(image, (x - shift, baseline - font(style.face, px).get_ascent()))


def _dashed(line: Sequence[Point], dash_px: float, gap_px: float) -> tuple[tuple[Point, ...], ...]:
    """The line cut into dashes, pixel by pixel."""
    fine = [
        (x0 + (x1 - x0) * step / count, y0 + (y1 - y0) * step / count)
        for (x0, y0), (x1, y1) in pairwise(line)
        for count in (max(1, round(math.hypot(x1 - x0, y1 - y0))),)
        for step in range(count)
    ]
    period = max(2, round(dash_px + gap_px))
    dashes = (tuple(fine[start : start + max(2, round(dash_px))]) for start in range(0, len(fine), period))
    return tuple(dash for dash in dashes if len(dash) > 1)
