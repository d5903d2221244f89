"""The neck as in a chord chart: string 1 on top, nut on the left; left-handed mirrors it.

Frets stand where they stand on a guitar: each is 1/17.817154 of what is left of the string (equal temperament).
"""

from dataclasses import dataclass

import pygame

from game.desk import pencil
from game.desk.theme import Colour, Theme
from game.desk.typography import Face, rendered
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import INLAYS, Place
from game.text.catalogue import say

_OCTAVE = 12
_FEWEST_FRETS = 12


def inlays_from(capo: int) -> tuple[tuple[int, bool], ...]:
    """The marked frets counted from a capo, and whether each has two dots: the dots stay where the neck has them."""
    return tuple((fret - capo, fret % _OCTAVE == 0) for fret in INLAYS if fret > capo)


@dataclass(frozen=True, slots=True, kw_only=True)
class NeckDrawing:
    """A neck drawn in `room` up to a fret well past the position, and to `highest_fret` at least, for playing with the
    mouse; from the fret of the `capo` on, where there is one.
    """

    room: pygame.Rect
    neck_map: NeckMap
    left_handed: bool = False
    capo: int = 0
    highest_fret: int = 0

    @property
    def last_fret(self) -> int:
        """The highest fret drawn."""
        return min(self.neck_map.frets, max(_FEWEST_FRETS, self.neck_map.positions[-1] + 7, self.highest_fret))

    @property
    def strings(self) -> int:
        """How many strings the instrument has."""
        return len(self.neck_map.tuning.open_strings)

    @property
    def _open_width(self) -> float:
        return self.room.width * 0.045

    def fret_x(self, fret: int) -> float:
        """Where a fret stands, in pixels from the window's left; 0 is the nut."""
        share = (1 - 2 ** (-fret / 12)) / (1 - 2 ** (-self.last_fret / 12))
        x = self._open_width + share * (self.room.width - self._open_width)
        return self.room.right - x if self.left_handed else self.room.left + x

    def string_y(self, string: int) -> float:
        """Where a string lies."""
        return self.room.top + (string - 0.5) * self.room.height / self.strings

    def centre_of(self, place: Place) -> tuple[float, float]:
        """Where a finger would press; left of the nut for an open string."""
        if place.fret == 0:
            nut, open_end = self.fret_x(0), self.room.right if self.left_handed else self.room.left
            return ((nut + open_end) / 2, self.string_y(place.string))
        return ((self.fret_x(place.fret - 1) + self.fret_x(place.fret)) / 2, self.string_y(place.string))

    def beside(self, place: Place) -> tuple[int, int]:
        """A pixel of bare wood near a place: between its string and the next, away from the frets."""
        x, y = self.centre_of(place)
        return round(x), round(y + self.room.height / self.strings / 2.5)

    def place_at(self, point: tuple[int, int]) -> Place | None:
        """The place under a point, None beside the neck."""
        if not self.room.collidepoint(point):
            return None
        string = 1 + int((point[1] - self.room.top) * self.strings / self.room.height)
        for fret in range(self.last_fret + 1):
            passed = point[0] >= self.fret_x(fret) if self.left_handed else point[0] <= self.fret_x(fret)
            if passed:
                return Place(min(string, self.strings), fret)
        return None

    def under_hand(self, position: int) -> pygame.Rect:
        """The pixels of the frets that lie under the fingers in a position."""
        highest = min(self.last_fret, position + self.neck_map.hand.span - 1)
        ends = self.fret_x(position - 1), self.fret_x(highest)
        return pygame.Rect(min(ends), self.room.top, max(ends) - min(ends), self.room.height)

    def draw(self, surface: pygame.Surface, theme: Theme, *, numbered: bool = True) -> None:
        """Draw strings, frets, inlays and the position, without a word about where anything is; the position's number
        may be left to what stands beside.
        """
        top, bottom = self.string_y(1), self.string_y(self.strings)
        for position in self.neck_map.positions:
            surface.fill(_between(theme.paper, theme.edge, 0.45), self.under_hand(position))
        for fret in range(self.last_fret + 1):
            width = 4 if fret == 0 else 2
            pygame.draw.line(surface, theme.pencil, (self.fret_x(fret), top), (self.fret_x(fret), bottom), width)
        for string in range(1, self.strings + 1):
            y = self.string_y(string)
            thickness = 1 + (string + 1) // 3
            pygame.draw.line(surface, theme.pencil, (self.room.left, y), (self.room.right, y), thickness)
        self._draw_inlays(surface, theme)
        if self.capo:
            self._draw_capo(surface, theme)
        if numbered:
            self._draw_numerals(surface, theme)

    def _draw_inlays(self, surface: pygame.Surface, theme: Theme) -> None:
        """Dots on the neck's edge."""
        radius = max(3, self.room.height // 45)
        for fret, is_double in inlays_from(self.capo):
            if fret <= self.last_fret:
                x = self.centre_of(Place(1, fret))[0]
                for dot in (-1, 1) if is_double else (0,):
                    at = (x + dot * radius * 2, self.room.bottom + radius * 2)
                    pygame.draw.circle(surface, theme.faded, at, radius)

    def _draw_capo(self, surface: pygame.Surface, theme: Theme) -> None:
        """A bar over all strings where the nut would be, with words that say at which fret below it."""
        width = max(7, self.room.width // 120)
        bar = pygame.Rect(0, self.room.top, width, self.room.height)
        bar.centerx = round(self.fret_x(0)) + (-width // 2 if self.left_handed else width // 2)
        pygame.draw.rect(surface, theme.ink, bar, border_radius=width // 2)
        words = rendered(say("neck.capo", fret=roman(self.capo)), Face.TEXT, max(13, self.room.height // 9), theme.ink)
        surface.blit(words, words.get_rect(midtop=(bar.centerx, bar.bottom + 1)))

    def _draw_numerals(self, surface: pygame.Surface, theme: Theme) -> None:
        """The Roman numeral of each position above its first fret."""
        for position in self.neck_map.positions:
            numeral = rendered(roman(position), Face.TEXT, max(13, self.room.height // 8), theme.faded)
            x = self.centre_of(Place(1, position))[0]
            surface.blit(numeral, numeral.get_rect(midbottom=(x, self.room.top - 1)))

    def draw_finger(
        self, surface: pygame.Surface, place: Place, theme: Theme, seed: int = 1, colour: Colour | None = None
    ) -> None:
        """A ring in pencil where a note was played, or in another `colour` where one is to be."""
        if place.fret > self.last_fret:
            return
        diameter = self.room.height / self.strings * 0.8
        circle = pencil.ring(diameter, max(1.5, diameter * 0.09), colour or theme.ink, seed)
        surface.blit(circle, circle.get_rect(center=self.centre_of(place)))


def _between(first: tuple[int, int, int], second: tuple[int, int, int], share: float) -> tuple[int, int, int]:
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(first, second, strict=True))
    return (red, green, blue)


def draw_margin_sketch(
    surface: pygame.Surface,
    room: pygame.Rect,
    place: Place,
    neck_map: NeckMap,
    theme: Theme,
    *,
    left_handed: bool = False,
) -> None:
    """The teacher's sketch in the margin: the strings, the frets of the position, a ring at the place meant."""
    lowest = min(neck_map.position - 1, place.fret)
    highest = max(neck_map.position + 4, place.fret)
    lowest = max(lowest, 1)
    columns, rows = highest - lowest + 1, len(neck_map.tuning.open_strings)
    cell_x, cell_y = room.width / columns, room.height / (rows - 1)
    width = max(1.0, room.height / 90)

    def x_of(fret_edge: float) -> float:
        return room.right - fret_edge * cell_x if left_handed else room.left + fret_edge * cell_x

    for string in range(rows):
        stroke = pencil.line(room.width, width, theme.pencil, seed=20 + string)
        surface.blit(stroke, stroke.get_rect(midleft=(room.left, room.top + string * cell_y)))
    for edge in range(columns + 1):
        stroke = pencil.line(room.height, width, theme.pencil, seed=40 + edge, upright=True)
        surface.blit(stroke, stroke.get_rect(midtop=(x_of(edge), room.top - 3)))
    numeral = pencil.letters(roman(neck_map.position), Face.TEXT, max(14, round(cell_y * 1.1)), theme.pencil)
    numeral_x = x_of(neck_map.position - lowest + 0.5)
    surface.blit(numeral, numeral.get_rect(midbottom=(numeral_x, room.top - width * 3)))
    fret_column = place.fret - lowest + 0.5 if place.fret >= lowest else -0.35
    circle = pencil.ring(cell_y * 0.95, width * 2, theme.accent, seed=3)
    surface.blit(circle, circle.get_rect(center=(x_of(fret_column), room.top + (place.string - 1) * cell_y)))
