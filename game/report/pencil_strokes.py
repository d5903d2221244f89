"""The pencil as curves of SVG: strokes with a little tremor, as on the desk (`game.desk.pencil`), that print sharp.

Lengths are in staff spaces; what is given back is drawn in verovio's units, like all other print of an engraving.
"""

import math
import random
from collections.abc import Sequence
from html import escape
from itertools import pairwise

from game.engraving.engraver import UNITS_PER_SPACE, EngravedFace
from game.engraving.glyphs import GLYPH_UNITS_PER_SPACE, glyph
from game.engraving.shapes import Box, Shape

Point = tuple[float, float]
WRONG, QUIET = "#b8482c", "#6b645a"
"""The colours of the pencil: what went wrong, and all else (those of the desk by day, the second a little darker)."""

# How far the hand strays for each step, in stroke widths.
_TREMOR = 0.03
_STEPS_A_SPACE = 6
_TEXT_WIDTH = 0.55


def stroke(points: Sequence[Point], width: float, colour: str, seed: int) -> Shape:
    """A stroke through points; `seed` settles its tremor."""
    chance = random.Random(seed)
    traced = _traced(points, width, chance)
    outline = " ".join(f"{round(x * UNITS_PER_SPACE)},{round(y * UNITS_PER_SPACE)}" for x, y in traced)
    svg = (
        f'<polyline points="{outline}" fill="none" stroke="{colour}" stroke-width="{round(width * UNITS_PER_SPACE)}" '
        'stroke-linecap="round" stroke-linejoin="round" opacity="0.9"/>'
    )
    return Shape(svg, _around(traced, width / 2))


def ring(centre: Point, diameter: float, width: float, colour: str, seed: int) -> Shape:
    """A circle drawn in one go, its ends a little apart, as hands do it."""
    start = random.Random(seed).uniform(-2.4, -1.6)
    turns = [(turn, start + turn * 0.17) for turn in range(39)]
    points = [
        (
            centre[0] + (diameter / 2 + 0.03 * diameter * turn / 40) * math.cos(angle),
            centre[1] + (diameter / 2 - 0.02 * diameter * turn / 40) * math.sin(angle),
        )
        for turn, angle in turns
    ]
    return stroke(points, width, colour, seed)


def head(centre: Point, colour: str, seed: int) -> Shape:
    """A small notehead, shaded in with close strokes: smaller than a printed one, and not as black."""
    lean = 0.35

    def at(turn: float, share: float) -> Point:
        """A point of the leaning ellipse, `share` of the way out."""
        x, y = share * 0.47 * math.cos(turn), share * 0.35 * math.sin(turn)
        return (
            centre[0] + x * math.cos(lean) + y * math.sin(lean),
            centre[1] - x * math.sin(lean) + y * math.cos(lean),
        )

    points = [at(step * math.tau / 16, share) for share in (0.95, 0.68, 0.4, 0.15) for step in range(17)]
    return stroke(points, 0.13, colour, seed)


def sign(code: str, right: float, y: float, colour: str, size: float = 0.8) -> Shape:
    """A musical sign by its SMuFL code point, `size` of the printed one, its right end at `right` on the line `y`."""
    outline = glyph(EngravedFace.ENGRAVED.value, code)
    box = outline.box
    left = right - (box.right - box.left) * size
    scale = size * UNITS_PER_SPACE / GLYPH_UNITS_PER_SPACE
    x0 = (left - box.left * size) * UNITS_PER_SPACE
    moved = f"translate({x0:.0f},{y * UNITS_PER_SPACE:.0f}) scale({scale:.4f},{-scale:.4f})"
    svg = f'<path fill="{colour}" transform="{moved}" d="{outline.path}"/>'
    return Shape(svg, Box(left, y + box.top * size, right, y + box.bottom * size))


def written(text: str, at: Point, height: float, colour: str, *, anchor: str = "middle") -> Shape:
    """Words with their baseline at a point; `anchor` says which part of them stands there: start, middle or end."""
    x, y = at
    svg = (
        f'<text x="{x * UNITS_PER_SPACE:.0f}" y="{y * UNITS_PER_SPACE:.0f}" font-size="{height * UNITS_PER_SPACE:.0f}" '
        f'text-anchor="{anchor}" fill="{colour}">{escape(text)}</text>'
    )
    width = _TEXT_WIDTH * height * len(text)
    left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    return Shape(svg, Box(left, y - 0.75 * height, left + width, y + 0.2 * height))


def _traced(points: Sequence[Point], width: float, chance: random.Random) -> list[Point]:
    """Points along a stroke. The hand drifts slowly and comes back."""
    drift_x = drift_y = 0.0
    traced = []
    for (x0, y0), (x1, y1) in pairwise(points):
        steps = max(1, int(math.hypot(x1 - x0, y1 - y0) * _STEPS_A_SPACE))
        for step in range(steps):
            drift_x = 0.96 * drift_x + chance.gauss(0, _TREMOR) * width * 3
            drift_y = 0.96 * drift_y + chance.gauss(0, _TREMOR) * width * 3
            along = step / steps
            traced.append((x0 + (x1 - x0) * along + drift_x, y0 + (y1 - y0) * along + drift_y))
    return [*traced, (points[-1][0] + drift_x, points[-1][1] + drift_y)]


def _around(points: Sequence[Point], margin: float) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs) - margin, min(ys) - margin, max(xs) + margin, max(ys) + margin)
