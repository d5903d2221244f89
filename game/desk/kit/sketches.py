"""Small drawings in pencil: a guitar with a cable, one with a microphone, a neck with a pointer."""

from typing import Final

from game.desk.kit.by_pencil import draw_pencil, draw_ring
from game.desk.kit.canvas import Canvas, Point
from game.desk.kit.inked import draw_dot, draw_shape

SKETCH_SIZE: Final = (112.0, 92.0)
"""Width and height of each, in units."""

_BODY: Final = (
    (0, 0), (4, -15), (15, -20), (26, -13), (34, -12), (43, -13),
    (48, 0), (43, 13), (34, 12), (26, 13), (15, 20), (4, 15),
)  # fmt: skip
_HEAD: Final = ((88, -2.6), (91, -5.5), (104, -4), (104, 4), (91, 5.5), (88, 2.6))


def smooth(points: tuple[Point, ...], *, closed: bool = False, steps: int = 10) -> tuple[Point, ...]:
    """A smooth curve through points (Catmull and Rom's spline), each stretch of it in so many `steps`."""
    row = (points[-1], *points, points[0], points[1]) if closed else (points[0], *points, points[-1])
    curve = [_between(row[at - 1 : at + 3], step / steps) for at in range(1, len(row) - 2) for step in range(steps)]
    return (*curve, row[-2])


def _between(four: tuple[Point, ...], share: float) -> Point:
    """The point between the second and the third of four."""
    x, y = (
        0.5 * (2 * b + (c - a) * share + (2 * a - 5 * b + 4 * c - d) * share**2 + (3 * b - a - 3 * c + d) * share**3)
        for a, b, c, d in zip(*four, strict=True)
    )
    return x, y


def draw_guitar(canvas: Canvas, at: Point, seed: int = 1) -> None:
    """A guitar lying, its body at the left, the middle of its end `at`."""
    scale, colour = 1.08, canvas.theme.pencil

    def placed(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((at[0] + scale * x, at[1] + scale * y) for x, y in points)

    draw_pencil(canvas, placed(smooth(_BODY, closed=True, steps=8)), 2.2, colour, seed)
    draw_ring(canvas, (at[0] + 33 * scale, at[1]), 11 * scale, 1.8, colour, seed + 1)
    for number, y in enumerate((-2.6, 2.6), start=2):
        draw_pencil(canvas, placed(((38, y), (88, y))), 2, colour, seed + number)
    draw_pencil(canvas, placed(_HEAD), 2, colour, seed + 4)
    draw_pencil(canvas, placed(((14, -6), (14, 6))), 2.6, colour, seed + 5)


def draw_guitar_with_cable(canvas: Canvas, at: Point) -> None:
    """A guitar that is plugged in; `at` is the upper left corner."""
    (x, y), colour = at, canvas.theme.pencil
    draw_guitar(canvas, (x, y + 22), 3)
    cable = ((x + 15, y + 40), (x + 20, y + 60), (x + 40, y + 68), (x + 62, y + 64), (x + 72, y + 64))
    draw_pencil(canvas, smooth(cable), 2.2, colour, 8)
    plug = ((x + 72, y + 58), (x + 90, y + 58), (x + 90, y + 70), (x + 72, y + 70), (x + 72, y + 58))
    draw_pencil(canvas, plug, 2, colour, 9)
    draw_pencil(canvas, ((x + 90, y + 64), (x + 103, y + 64)), 2.6, colour, 10)


def draw_guitar_with_microphone(canvas: Canvas, at: Point) -> None:
    """A guitar, and the microphone that hears it; `at` is the upper left corner."""
    (x, y), colour = at, canvas.theme.pencil
    draw_guitar(canvas, (x, y + 17), 13)
    draw_ring(canvas, (x + 56, y + 54), 18, 2.2, colour, 15)
    for number, down in enumerate((51, 57), start=16):
        draw_pencil(canvas, ((x + 48, y + down), (x + 64, y + down)), 1.3, colour, number)
    draw_pencil(canvas, ((x + 56, y + 63), (x + 56, y + 75)), 2.2, colour, 18)
    draw_pencil(canvas, ((x + 46, y + 76), (x + 66, y + 75)), 2.4, colour, 19)
    for number, (across, half) in enumerate(((72, 6), (79, 10)), start=20):
        wave = ((x + across, y + 54 - half), (x + across + 4, y + 54), (x + across, y + 54 + half))
        draw_pencil(canvas, smooth(wave), 1.8, colour, number)


def draw_neck_with_pointer(canvas: Canvas, at: Point) -> None:
    """A neck that is clicked on; `at` is the upper left corner."""
    (x, y), theme = at, canvas.theme
    for string in range(6):
        draw_pencil(canvas, ((x + 6, y + 12 * string), (x + 110, y + 12 * string)), 1.8, theme.pencil, 30 + string)
    for fret in range(5):
        draw_pencil(canvas, ((x + 6 + 26 * fret, y - 2), (x + 6 + 26 * fret, y + 62)), 1.8, theme.pencil, 40 + fret)
    draw_dot(canvas, (x + 45, y + 24), 17, theme.read)
    arrow = ((50, 28), (50, 56), (57, 50), (62, 61), (67, 58), (62, 48), (71, 47))
    draw_shape(canvas, [(x + across, y + down) for across, down in arrow], theme.ink)
