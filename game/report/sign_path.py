"""Musical signs of the engraver's face as paths of the drawing library of charts."""

import re
from functools import cache
from typing import Final, SupportsInt

from matplotlib.path import Path

from game.engraving.engraver import EngravedFace
from game.engraving.glyphs import GLYPH_UNITS_PER_SPACE, glyph

_TOKEN = re.compile(r"([A-Za-z])|(-?(?:\d+\.?\d*|\.\d+))")
_NUMBERS: Final = {"M": 2, "m": 2, "L": 2, "l": 2, "H": 1, "h": 1, "V": 1, "v": 1, "C": 6, "c": 6, "S": 4, "s": 4}
Point = tuple[float, float]


@cache
def sign_path(code: str) -> Path:
    """The outline of a sign by its SMuFL code point, in staff spaces, y downwards from its baseline. Raises `KeyError`
    where no face has it.
    """
    pen = _Pen()
    for letter, numbers in _words(glyph(EngravedFace.ENGRAVED.value, code).path):
        pen.draw(letter, numbers)
    points = [(x / GLYPH_UNITS_PER_SPACE, -y / GLYPH_UNITS_PER_SPACE) for x, y in pen.points]
    return Path(points, pen.codes)


def _words(outline: str) -> list[tuple[str, list[float]]]:
    """The commands of path data (SVG 1.1, 8.3), each with its numbers; one that is repeated stands again."""
    letter, found = "", list[tuple[str, list[float]]]()
    numbers: list[float] = []
    for token in _TOKEN.finditer(outline):
        if token[1]:
            letter, numbers = token[1], []
            if letter in "Zz":
                found.append((letter, []))
            continue
        numbers.append(float(token[2]))
        if len(numbers) == _NUMBERS[letter]:
            found.append((letter, numbers))
            numbers = []
            # Pairs after a move are lines.
            letter = {"M": "L", "m": "l"}.get(letter, letter)
    return found


class _Pen:
    """Follows path data; `points` and `codes` are those of the drawing library."""

    def __init__(self) -> None:
        self.points: list[Point] = []
        self.codes: list[int] = []
        self._at: Point = (0.0, 0.0)
        self._start: Point = (0.0, 0.0)
        self._control: Point | None = None

    def draw(self, letter: str, numbers: list[float]) -> None:
        control, self._control = self._control, None
        relative = letter.islower()
        from_x, from_y = self._at if relative else (0.0, 0.0)
        match letter.upper():
            case "Z":
                self._add(Path.CLOSEPOLY, self._start)
            case "H":
                self._add(Path.LINETO, (from_x + numbers[0], self._at[1]))
            case "V":
                self._add(Path.LINETO, (self._at[0], from_y + numbers[0]))
            case "C" | "S":
                pairs = [(from_x + x, from_y + y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
                if letter in "Ss":
                    pairs.insert(0, self._mirrored(control))
                for pair in pairs:
                    self._add(Path.CURVE4, pair)
                self._control = pairs[1]
            case _:
                to = (from_x + numbers[0], from_y + numbers[1])
                self._add(Path.MOVETO if letter in "Mm" else Path.LINETO, to)
                if letter in "Mm":
                    self._start = to

    def _mirrored(self, control: Point | None) -> Point:
        """A smooth curve begins as the one before it ended (SVG 1.1, 8.3.6)."""
        if control is None:
            return self._at
        return 2 * self._at[0] - control[0], 2 * self._at[1] - control[1]

    def _add(self, code: SupportsInt, point: Point) -> None:
        self.points.append(point)
        self.codes.append(int(code))
        self._at = point
