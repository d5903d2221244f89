"""A signature on its line, as far as the pen has come: drawn strokes as they were drawn, or a typed name in italics."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import pygame

from game.desk.kit.canvas import Canvas, Point
from game.desk.kit.inked import draw_dot, draw_ink
from game.desk.kit.pen_strokes import Stroke, between, fewer, tip
from game.desk.theme import Colour
from game.desk.typography import Face, font

_THICK = 3.4
# So many are enough to draw the longest signature smoothly.
_MOST_POINTS = 600
# A typed name: its size and lean, and how large it is at most, in heights of the room.
_NAME_SIZE, _LEAN_DEGREES, _NAME_BASELINE = 0.58, 5.0, 0.72


@dataclass(frozen=True, slots=True)
class SigningRoom:
    """Where it stands, in units: strokes count in its heights, from its upper left corner."""

    left: float
    top: float
    width: float
    height: float

    def point(self, at: Point, scale: float = 1.0) -> Point:
        """The place in units of a point in heights of the room."""
        return self.left + at[0] * self.height * scale, self.top + at[1] * self.height * scale

    def heights(self, at: Point) -> Point:
        """The other way round, kept inside the room."""
        x, y = (at[0] - self.left) / self.height, (at[1] - self.top) / self.height
        return min(max(x, 0.0), self.width / self.height), min(max(y, 0.0), 1.0)

    def holds(self, at: Point) -> bool:
        """Whether a place in units lies in it."""
        return 0 <= at[0] - self.left <= self.width and 0 <= at[1] - self.top <= self.height


def writable(name: str) -> str:
    """What of a name can be set in our type: what it lacks, as emoji, is left out."""
    face = font(Face.ITALIC, 40)
    return "".join(sign for sign in name if any(face.metrics(sign) or ())).strip()


def draw_strokes(canvas: Canvas, strokes: Sequence[Stroke], room: SigningRoom, colour: Colour, share: float) -> Point:
    """Draw so much of the strokes, 1 for all; returns where the pen is, in units. Those that were drawn in a wider room
    are made to fit.
    """
    strokes = fewer(strokes, _MOST_POINTS)
    right = max((x for stroke in strokes for x, _ in stroke), default=0.0)
    scale = min(1.0, room.width / room.height / right) if right else 1.0
    thick = _THICK * room.height / 112 * scale
    for stroke in between(strokes, 0.0, share):
        points = [room.point(point, scale) for point in stroke]
        if len(points) == 1:
            draw_dot(canvas, points[0], 1.6 * thick, colour)
        else:
            _draw_in_pieces(canvas, points, thick, colour)
    at = tip(strokes, share)
    return room.point((0.0, _NAME_BASELINE)) if at is None else room.point(at, scale)


def draw_name(canvas: Canvas, name: str, room: SigningRoom, colour: Colour, share: float) -> Point:
    """Draw so much of a typed name, from its left end; returns where the pen is, in units."""
    if not (shown := writable(name)):
        return room.point((0.0, _NAME_BASELINE))
    image, baseline = _name(shown, canvas.px(_NAME_SIZE * room.height), canvas.px(room.width), colour)
    x, y = canvas.point((room.left, room.top + _NAME_BASELINE * room.height))
    width = round(image.get_width() * share)
    canvas.surface.blit(image, (x, y - baseline), (0, 0, width, image.get_height()))
    rise = width / max(1, image.get_width()) * image.get_width() * 0.0875
    return (x + width) / canvas.sheet.unit, (y - rise) / canvas.sheet.unit


def _draw_in_pieces(canvas: Canvas, points: Sequence[Point], thick: float, colour: Colour, most: int = 16) -> None:
    """A long stroke piece by piece: each is kept by itself, and only the last one is new while the pen writes on."""
    for start in range(0, len(points) - 1, most):
        draw_ink(canvas, points[start : start + most + 1], thick, colour)


@lru_cache(maxsize=8)
def _name(name: str, px: int, most_px: int, colour: Colour) -> tuple[pygame.Surface, int]:
    """A name that leans upwards, made to fit its room, and where its baseline is at its left end."""
    face = font(Face.ITALIC, px)
    flat = face.render(name, True, colour)
    shrink = min(1.0, most_px / (flat.get_width() * 1.02))
    image = pygame.transform.rotozoom(flat.convert_alpha(), _LEAN_DEGREES, shrink)
    below = (flat.get_height() - face.get_ascent()) * shrink
    return image, round(image.get_height() - below)
