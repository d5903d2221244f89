"""The pen that signs: a fountain pen, drawn from its nib upwards to the right."""

import math

from game.desk.kit.canvas import Canvas, Point, blend
from game.desk.kit.inked import draw_dot, draw_shape
from game.desk.theme import NIGHT

LENGTH, ANGLE = 253.0, -0.52
"""In units, and how it is held, in radians."""

_GOLD, _ENGRAVED, _SHADE, _WHITE = (196, 160, 84), (110, 82, 34), (60, 45, 20), (255, 255, 255)
# Dark on paper; in a dark room it would not be seen.
_BODY, _BODY_AT_NIGHT = (38, 46, 62), (84, 96, 120)


def draw_pen(canvas: Canvas, nib: Point, *, scale: float = 1.0) -> None:
    """The pen with its nib at a place, and its shadow on the paper."""
    cos, sin, unit = math.cos(ANGLE), math.sin(ANGLE), canvas.sheet.unit
    # On whole pixels its parts look the same wherever it is: each is drawn once and kept.
    nib = round(nib[0] * unit) / unit, round(nib[1] * unit) / unit

    def at(along: float, across: float, down: float = 0.0) -> Point:
        """A place of the pen, so far from its nib and from its axis."""
        x, y = along * scale, across * scale
        return nib[0] + x * cos - y * sin + down * 0.6, nib[1] + x * sin + y * cos + down

    shadow = ((20, -7), (60, -11), (240, -11), (252, -5), (252, 5), (240, 11), (60, 11), (20, 7))
    draw_shape(canvas, [at(*place, 7) for place in shadow], _SHADE, alpha=60)
    draw_shape(canvas, [at(0, 0), at(26, -6.5), at(48, -6), at(48, 6), at(26, 6.5)], _GOLD)
    draw_shape(canvas, [at(4, -0.6), at(31, -0.6), at(31, 0.6), at(4, 0.6)], _ENGRAVED)
    draw_dot(canvas, at(31, 0), 4 * scale, _ENGRAVED)
    colour = _BODY_AT_NIGHT if canvas.theme is NIGHT else _BODY
    body = ((46, -7.5), (74, -11), (240, -11), (250, -6), (LENGTH, 0), (250, 6), (240, 11), (74, 11), (46, 7.5))
    draw_shape(canvas, [at(*place) for place in body], colour)
    draw_shape(canvas, [at(74, -7.5), at(238, -7.5), at(238, -4.5), at(74, -4.5)], blend(colour, _WHITE, 0.35))
    draw_shape(canvas, [at(108, -11), at(115, -11), at(115, 11), at(108, 11)], _GOLD)
