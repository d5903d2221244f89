"""The neck below the staff: its places filled as far as they have come. String 1 on top, nut on the left; left-handed
mirrors it. Frets stand where they stand on a guitar.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_ring
from game.desk.kit.canvas import Align, Canvas, Point, Style, blend
from game.desk.kit.inked import draw_dot, draw_pill
from game.desk.kit.note_fill import Fill, FilledPlace, empty_colour
from game.desk.neck_drawing import inlays_from
from game.desk.theme import NIGHT, Colour
from game.desk.typography import Face
from game.neck.hand import USUAL_HAND
from game.neck.neck_map import roman
from game.text.catalogue import say

_OPEN_SHARE: Final = 0.05
_DOT_SHARE: Final = 0.93
_WIDEST_DOT: Final = 40.0
_LETTERS, _NUMERAL = 20.0, 26.0
_CAPO: Final = 9.0
_BESIDE_LETTERS: Final = 9.0


@dataclass(frozen=True, slots=True, kw_only=True)
class InkNeck:
    """A neck in its room, in units: from the fret `first`, 0 for the nut, to the fret `last`. The `span` frets under
    the hand in `position`, and in the `second` one of two that are joined, are shaded. With a `capo` frets are counted
    from there.
    """

    left: float
    top: float
    width: float
    height: float
    first: int
    last: int
    position: int
    strings: int = 6
    left_handed: bool = False
    capo: int = 0
    second: int | None = None
    span: int = USUAL_HAND.span

    @property
    def positions(self) -> tuple[int, ...]:
        """One position, or two that are joined, the lower one first."""
        return (self.position,) if self.second is None else tuple(sorted((self.position, self.second)))

    def fret_x(self, fret: int) -> float:
        """Where a fret stands."""
        nearest, farthest = 2 ** (-self.first / 12), 2 ** (-self.last / 12)
        open_width = self.width * _OPEN_SHARE if self.first == 0 else 0.0
        along = open_width + (nearest - 2 ** (-fret / 12)) / (nearest - farthest) * (self.width - open_width)
        return self.left + (self.width - along if self.left_handed else along)

    def string_y(self, string: int) -> float:
        """Where a string lies."""
        return self.top + (string - 0.5) * self.height / self.strings

    def middle_of(self, string: int, fret: int) -> Point:
        """Where a finger would press; behind the nut for an open string."""
        if fret == 0:
            end = self.left + (self.width if self.left_handed else 0.0)
            return (self.fret_x(0) + end) / 2, self.string_y(string)
        return (self.fret_x(fret - 1) + self.fret_x(fret)) / 2, self.string_y(string)

    def place_at(self, at: Point) -> tuple[int, int] | None:
        """String and fret under a place of the sheet, None beside the neck."""
        x, y = at
        if not (self.left <= x <= self.left + self.width and self.top <= y <= self.top + self.height):
            return None
        string = min(self.strings, 1 + int((y - self.top) * self.strings / self.height))
        for fret in range(self.first, self.last + 1):
            if (x >= self.fret_x(fret)) if self.left_handed else (x <= self.fret_x(fret)):
                return string, fret
        return string, self.last

    @property
    def dot(self) -> float:
        """The width of a place."""
        return min(_WIDEST_DOT, self.height / self.strings * _DOT_SHARE)


def draw_ink_neck(canvas: Canvas, neck: InkNeck, places: Iterable[FilledPlace], *, numbered: bool = True) -> None:
    """Board, position, frets, strings and inlays, then the places; `numbered` writes the position above."""
    _draw_board(canvas, neck)
    if numbered:
        for position in neck.positions:
            at = (neck.middle_of(1, position)[0], neck.top - 9)
            canvas.write(roman(position), at, Style(Face.TEXT, _NUMERAL, canvas.theme.faded), Align.CENTRE)
    for place in places:
        draw_place(canvas, place, neck.middle_of(place.string, place.fret), neck.dot)


def draw_place(canvas: Canvas, place: FilledPlace, at: Point, diameter: float) -> None:
    """A place, its middle `at`: a dot, or as wide as its letters where they are more than a few ("sol♯")."""
    theme, seed = canvas.theme, place.string * 9 + place.fret
    filled = place.fill.inked or place.fill is Fill.PRINT
    letters = Style(Face.TITLE if filled else Face.TEXT, _LETTERS, theme.paper if filled else theme.pencil)
    needed = canvas.width_of(place.letters, letters) + _BESIDE_LETTERS if place.letters else 0.0
    if needed > diameter + 1:
        diameter = _draw_wide(canvas, place, at, (needed, diameter))
    else:
        _draw_round(canvas, place, at, diameter)
    if place.letters:
        canvas.write(place.letters, (at[0], at[1] + 0.33 * _LETTERS), letters, Align.CENTRE)
    if place.ringed:
        draw_ring(canvas, at, diameter + 9, 3, theme.accent, seed)
    elif place.fill is Fill.DUE:
        draw_ring(canvas, at, diameter + 6, 2, theme.pencil, seed)


def _draw_round(canvas: Canvas, place: FilledPlace, at: Point, diameter: float) -> None:
    theme = canvas.theme
    if place.fill.inked or place.fill is Fill.PRINT:
        draw_dot(canvas, at, diameter, theme.ink if place.fill is Fill.PRINT else theme.read)
    elif place.fill is Fill.PENCIL:
        draw_dot(canvas, at, diameter, theme.paper)
        draw_ring(canvas, at, diameter - 2, 2.6, theme.pencil, place.string * 9 + place.fret)
    else:
        draw_dot(canvas, at, diameter, theme.paper, ring=empty_colour(canvas))


def _draw_wide(canvas: Canvas, place: FilledPlace, at: Point, size: tuple[float, float]) -> float:
    """The same, drawn out to a width; returns it."""
    theme = canvas.theme
    if place.fill.inked or place.fill is Fill.PRINT:
        draw_pill(canvas, at, size, theme.ink if place.fill is Fill.PRINT else theme.read)
    else:
        ring = theme.pencil if place.fill is Fill.PENCIL else empty_colour(canvas)
        draw_pill(canvas, at, size, theme.paper, ring=ring)
    return size[0]


def _draw_board(canvas: Canvas, neck: InkNeck) -> None:
    theme = canvas.theme
    board, under_hand = (
        ((43, 42, 39), (58, 56, 51))
        if theme is NIGHT
        else (blend(theme.paper, theme.edge, 0.3), blend(theme.paper, theme.edge, 0.66))
    )
    _fill(canvas, board, neck.fret_x(neck.first), neck.fret_x(neck.last), neck.top, neck.height)
    for position in neck.positions:
        lowest, highest = max(neck.first, position - 1), min(neck.last, position + neck.span - 1)
        _fill(canvas, under_hand, neck.fret_x(lowest), neck.fret_x(highest), neck.top, neck.height)
    for fret, is_double in inlays_from(neck.capo):
        if neck.first < fret <= neck.last:
            for side in (-1, 1) if is_double else (0,):
                at = (neck.middle_of(1, fret)[0] + 9 * side, neck.top + neck.height + 13)
                draw_dot(canvas, at, 8, blend(theme.paper, theme.pencil, 0.7))
    top, bottom = neck.string_y(1) - 2, neck.string_y(neck.strings) + 2
    for fret in range(neck.first, neck.last + 1):
        thick, x = 5.0 if fret == 0 else 2.0, neck.fret_x(fret)
        colour = blend(theme.paper, theme.pencil, 0.95 if fret == 0 else 0.6)
        _fill(canvas, colour, x - thick / 2, x + thick / 2, top, bottom - top)
    for string in range(1, neck.strings + 1):
        thick, y = 1.2 + 0.42 * string, neck.string_y(string)
        colour = blend(theme.paper, theme.pencil, 0.85)
        _fill(canvas, colour, neck.left, neck.left + neck.width, y - thick / 2, thick)
    if neck.capo:
        _draw_capo(canvas, neck)


def _draw_capo(canvas: Canvas, neck: InkNeck) -> None:
    """A bar over all strings where the nut would be, or at the edge behind which it is, and its fret below."""
    x = neck.fret_x(neck.first) + (-_CAPO / 2 if neck.left_handed else _CAPO / 2)
    top, bottom = neck.top + 2, neck.top + neck.height - 2
    bar = canvas.rect(x - _CAPO / 2, top, _CAPO, bottom - top)
    pygame.draw.rect(canvas.surface, canvas.theme.ink, bar, border_radius=bar.width // 2)
    canvas.write(
        say("neck.capo", fret=roman(neck.capo)),
        (x, bottom + 22),
        Style(Face.TITLE, _LETTERS, canvas.theme.ink),
        Align.CENTRE,
    )


def _fill(canvas: Canvas, colour: Colour, one: float, other: float, top: float, height: float) -> None:
    """Fill from one x to another, however they lie; a line is a pixel thick at least."""
    rect = canvas.rect(min(one, other), top, abs(other - one), height)
    rect.width, rect.height = max(1, rect.width), max(1, rect.height)
    canvas.surface.fill(colour, rect)
