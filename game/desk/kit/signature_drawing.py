"""A signature in ink: strokes as they were drawn, or a typed name, as large as its room allows."""

from collections.abc import Sequence

import pygame

from game.desk.kit.canvas import Align, Canvas, Point, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.inked import draw_ink
from game.desk.theme import Colour
from game.desk.typography import Face

_PEN = 2.0
_TYPED_SIZE = 0.62
_BASELINE = 0.72


def draw_signature(
    canvas: Canvas, strokes: Sequence[Sequence[Point]], typed: str, room: tuple[float, float, float, float], ink: Colour
) -> pygame.Rect:
    """Draw it in the middle of a room (left, top, width, height in units); returns the pixels of the room.

    Points of `strokes` count in heights of the room that was signed in, x from its left end on, y from its top. They
    keep their shape. Without strokes the `typed` name is written.
    """
    left, top, width, height = room
    if strokes:
        scale, shift = _placing(strokes, room)
        for stroke in strokes:
            # A dot is a stroke that went nowhere.
            points = [(shift[0] + x * scale, shift[1] + y * scale) for x, y in (*stroke, stroke[-1])]
            draw_ink(canvas, points, _PEN, ink)
    elif typed:
        text, style = fitted(canvas, typed, Style(Face.ITALIC, _TYPED_SIZE * height, ink), width)
        canvas.write(text, (left + width / 2, top + _BASELINE * height), style, Align.CENTRE)
    return canvas.rect(left, top, width, height)


def _placing(
    strokes: Sequence[Sequence[Point]], room: tuple[float, float, float, float]
) -> tuple[float, tuple[float, float]]:
    """How large a height is, and where the point (0, 0) lies, so that all strokes fill the room."""
    left, top, width, height = room
    xs = [x for stroke in strokes for x, _ in stroke]
    ys = [y for stroke in strokes for _, y in stroke]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min(width / max(wide, 1e-6), height / max(high, 1e-6), height)
    return scale, (
        left + width / 2 - scale * (min(xs) + max(xs)) / 2,
        top + height / 2 - scale * (min(ys) + max(ys)) / 2,
    )
