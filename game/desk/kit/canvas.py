"""Where the kit draws: a surface, its measures and its colours. Places are in units of a window of 1280 by 720."""

from dataclasses import dataclass
from enum import Enum, auto

import pygame

from game.desk.sheet import Sheet
from game.desk.theme import Colour, Theme
from game.desk.typography import Face, font, rendered, text_width

Point = tuple[float, float]


class Align(Enum):
    """Which part of a text stands at the place it is given."""

    LEFT = auto()
    CENTRE = auto()
    RIGHT = auto()


@dataclass(frozen=True, slots=True)
class Style:
    """How a text is set: its face, its size in units and its colour."""

    face: Face
    size: float
    colour: Colour


@dataclass(frozen=True, slots=True)
class Canvas:
    """A surface to draw on with the measures of a window and the colours of a look."""

    surface: pygame.Surface
    sheet: Sheet
    theme: Theme

    def px(self, units: float) -> int:
        """Whole pixels for so many units."""
        return self.sheet.px(units)

    def point(self, at: Point) -> tuple[int, int]:
        """The pixel of a place."""
        return self.sheet.px(at[0]), self.sheet.px(at[1])

    def rect(self, left: float, top: float, width: float, height: float) -> pygame.Rect:
        """The pixels of a rectangle; neighbours in units are neighbours in pixels."""
        (x, y), (right, bottom) = self.point((left, top)), self.point((left + width, top + height))
        return pygame.Rect(x, y, right - x, bottom - y)

    def width_of(self, text: str, style: Style) -> float:
        """The width of a text, in units."""
        return text_width(text, style.face, self.px(style.size)) / self.sheet.unit

    def write(self, text: str, at: Point, style: Style, align: Align = Align.LEFT) -> pygame.Rect:
        """Set a line of text, its left end, middle or right end and its baseline `at`; returns the pixels it took."""
        px = self.px(style.size)
        image = rendered(text, style.face, px, style.colour)
        x, baseline = self.point(at)
        shift = {Align.LEFT: 0, Align.CENTRE: image.get_width() // 2, Align.RIGHT: image.get_width()}[align]
        return self.surface.blit(image, (x - shift, baseline - font(style.face, px).get_ascent()))


def blend(first: Colour, second: Colour, share: float) -> Colour:
    """A colour between two: the first at 0, the second at 1."""
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(first, second, strict=True))
    return red, green, blue
