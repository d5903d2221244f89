"""The picture of the map: every note above on its staff, every place below on the neck, and a line from one to the
other where one is looked at. In units.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from game.coach.notes.ink import Ink
from game.coach.notes.ink_of_map import InkedPitch, InkOfMap
from game.desk.kit.by_pencil import draw_pencil, draw_ring
from game.desk.kit.canvas import Align, Canvas, Point, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.ink_neck import InkNeck, draw_ink_neck
from game.desk.kit.ink_staff import StaffRoom, draw_ink_staff
from game.desk.kit.inked import draw_dot
from game.desk.kit.note_fill import Fill, FilledNote, FilledPlace
from game.desk.typography import Face
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place
from game.screens.rows_in_sight import first_in_sight
from game.screens.setup.map_choice import LookedAt, frets_in_sight
from game.screens.setup.map_words import named
from game.text.catalogue import say

FILLS: Final = {Ink.NOT_MET: Fill.EMPTY, Ink.PENCIL: Fill.PENCIL, Ink.INK: Fill.INK, Ink.DUE: Fill.DUE}
LEFT, NECK_RIGHT, WORDS_LEFT, RIGHT_MARGIN = 70.0, 840.0, 880.0, 68.0
_STAFF_TOP, _STAFF_BOTTOM, _MOST_SPACE = 166.0, 306.0, 12.5
_NECK_TOP, _NUMERALS_UP = 352.0, 50.0
_MOST_NECK: Final = 330.0
"""In a window that is much higher than wide the neck stays one that can be read."""
_NUMERAL_LEFT, _NUMERAL_STEP, _NUMERALS = 176.0, 63.0, 9
_BETWEEN_COLUMNS: Final = 0.55
_HEAD_REACH: Final = 16.0
"""How far from a head a click still means it."""


_Room = tuple[float, float, float, float]


@dataclass(frozen=True)
class MapSheet:
    """Where the notes and places of a map stand. `foot` is the upper end of the keys at the foot."""

    size: tuple[float, float]
    neck_map: NeckMap
    ink: InkOfMap
    looked: LookedAt | None = None
    left_handed: bool = False
    capo: int = 0
    more: bool = False
    foot: float = 626.0

    @cached_property
    def neck(self) -> InkNeck:
        """The neck, as high as there is room."""
        first, last = frets_in_sight(self.neck_map, self.looked, more=self.more)
        return InkNeck(
            left=LEFT,
            top=_NECK_TOP,
            width=NECK_RIGHT - LEFT,
            height=self.numerals_y - _NUMERALS_UP - _NECK_TOP,
            first=first,
            last=last,
            position=self.neck_map.position,
            strings=len(self.neck_map.tuning.open_strings),
            left_handed=self.left_handed,
            capo=self.capo,
        )

    @property
    def numerals_y(self) -> float:
        """The baseline of the positions."""
        return min(self.foot - 26, _NECK_TOP + _MOST_NECK + _NUMERALS_UP)

    @cached_property
    def staff(self) -> StaffRoom:
        """The staff, as large as its lowest and highest note let it be."""
        reading = self.neck_map.reading
        steps = [pitch(one.shown.written).staff_step for one in self.ink.pitches] or [reading.clef.top_step]
        above = max(2.0, (max(steps) - reading.clef.top_step) / 2 + 1.4)
        below = max(2.6, (reading.clef.bottom_step - min(steps)) / 2 + 0.9)
        space = min(_MOST_SPACE, (_STAFF_BOTTOM - _STAFF_TOP) / (above + 4 + below))
        spare = (_STAFF_BOTTOM - _STAFF_TOP) - (above + 4 + below) * space
        return StaffRoom(LEFT, self.size[0] - RIGHT_MARGIN, _STAFF_TOP + spare / 2 + above * space, space, reading)

    def place_at(self, at: Point) -> Place | None:
        """The place of the neck under a point, None beside it."""
        found = self.neck.place_at(at)
        return Place(*found) if found and (found[1] > self.neck.first or found[1] == 0) else None

    def pitch_at(self, at: Point, heads: Sequence[Point]) -> int | None:
        """The sounding pitch whose head is under a point; None beside them all."""
        near = [
            (abs(x - at[0]) + abs(y - at[1]), one.sounding)
            for one, (x, y) in zip(self.ink.pitches, heads, strict=True)
            if abs(x - at[0]) <= _HEAD_REACH and abs(y - at[1]) <= _HEAD_REACH
        ]
        return min(near)[1] if near else None

    @property
    def positions(self) -> range:
        """The positions whose numerals are in sight."""
        count = self.neck_map.frets - 3
        first = first_in_sight(chosen=self.neck_map.position - 1, shown=_NUMERALS, count=count)
        return range(first + 1, min(count, first + _NUMERALS) + 1)

    def numeral_x(self, position: int) -> float:
        """The middle of a numeral."""
        return _NUMERAL_LEFT + (position - self.positions[0]) * _NUMERAL_STEP

    def position_at(self, at: Point) -> int | None:
        """The position whose numeral is under a point."""
        if abs(at[1] - self.numerals_y + 8) > _NUMERAL_STEP / 2 - 6:
            return None
        return next((one for one in self.positions if abs(self.numeral_x(one) - at[0]) < _NUMERAL_STEP / 2), None)

    def draw(self, canvas: Canvas, names: NoteNames) -> tuple[Point, ...]:
        """Staff, neck and positions; returns the middles of the heads, from the lowest pitch on."""
        notes = [FilledNote(one.shown.written, FILLS[one.shown.ink]) for one in self.ink.pitches]
        heads = draw_ink_staff(canvas, notes, self.staff)
        draw_ink_neck(canvas, self.neck, [self._place(one, names) for one in self.ink.pitches])
        self._draw_looked_at(canvas, heads, names)
        self._draw_positions(canvas)
        return heads

    def followed(self, heads: Sequence[Point]) -> tuple[_Room, _Room] | None:
        """What is to be seen of the note that is looked at: head and place with what lies between, and the place, each
        as left, top, width and height; None where none is.
        """
        looked = self.looked
        number = next(
            (at for at, one in enumerate(self.ink.pitches) if looked and one.sounding == looked.sounding), None
        )
        if looked is None or number is None:
            return None
        place = looked.other or self.ink.pitches[number].place
        (x, y), (head_x, head_y), air = self.neck.middle_of(place.string, place.fret), heads[number], 60.0
        left, right = min(x, head_x) - air, max(x, head_x) + air
        return (left, head_y - air, right - left, y - head_y + 2 * air), (x - air, y - air, 2 * air, 2 * air)

    def _place(self, one: InkedPitch, names: NoteNames) -> FilledPlace:
        return FilledPlace(one.place.string, one.place.fret, FILLS[one.ink], _name(one.shown.written, names))

    def _draw_looked_at(self, canvas: Canvas, heads: Sequence[Point], names: NoteNames) -> None:
        """Ring the note and its home and tie them; what could be its home stands there in red."""
        looked = self.looked
        if looked is None:
            return
        number = next((at for at, one in enumerate(self.ink.pitches) if one.sounding == looked.sounding), None)
        if number is not None:
            place = self.ink.pitches[number].place
            self._tie(canvas, heads[number], self.neck.middle_of(place.string, place.fret))
        if looked.other is not None:
            self._draw_other(canvas, looked.other, names)

    def _tie(self, canvas: Canvas, head: Point, place: Point) -> None:
        accent, dot = canvas.theme.accent, self.neck.dot
        draw_ring(canvas, head, 2.6 * self.staff.space, 3, accent, 4)
        draw_ring(canvas, place, dot + 10, 3, accent, 5)
        towards = 1.0 if place[0] <= head[0] else -1.0
        beside = towards * _BETWEEN_COLUMNS * self._column(place[0])
        if not LEFT <= place[0] + beside <= NECK_RIGHT:
            towards, beside = -towards, -beside
        low = max(self.staff.bottom, head[1]) + 40
        knots = [
            (head[0] - 6 * towards, head[1] + 1.4 * self.staff.space),
            (head[0] + (place[0] - head[0]) * 0.12, low),
            # It comes down between two columns of places, over none of them.
            (place[0] + beside, self.neck.top - 8),
            (place[0] + 0.45 * dot * towards, place[1] - 0.6 * dot),
        ]
        draw_pencil(canvas, _smooth(knots), 2.6, accent, 21)

    def _column(self, x: float) -> float:
        """How wide the fret is whose middle is at `x`."""
        frets = range(max(1, self.neck.first + 1), self.neck.last + 1)
        middles = [(abs(self.neck.middle_of(1, fret)[0] - x), fret) for fret in frets]
        nearest = min(middles)[1]
        return abs(self.neck.fret_x(nearest) - self.neck.fret_x(nearest - 1))

    def _draw_other(self, canvas: Canvas, place: Place, names: NoteNames) -> None:
        at, dot, accent = self.neck.middle_of(place.string, place.fret), self.neck.dot, canvas.theme.accent
        draw_dot(canvas, at, dot, canvas.theme.paper)
        draw_ring(canvas, at, dot, 2.4, accent, 12)
        letters = Style(Face.TEXT, 20, accent)
        canvas.write(self._other_name(names), (at[0], at[1] + 6.6), letters, Align.CENTRE)

    def _other_name(self, names: NoteNames) -> str:
        assert self.looked is not None
        shown = next((one.shown.written for one in self.ink.pitches if one.sounding == self.looked.sounding), None)
        return _name(shown, names) if shown else named(self.looked.sounding, self.neck_map, names)

    def _draw_positions(self, canvas: Canvas) -> None:
        theme, y = canvas.theme, self.numerals_y
        words, style = fitted(canvas, say("map.positions"), Style(Face.ITALIC, 22, theme.faded), 84)
        canvas.write(words, (LEFT, y), style)
        for position in self.positions:
            here = position == self.neck_map.position
            style = Style(Face.TITLE, 26, theme.ink) if here else Style(Face.TEXT, 24, theme.faded)
            canvas.write(roman(position), (self.numeral_x(position), y), style, Align.CENTRE)
            if here:
                draw_ring(canvas, (self.numeral_x(position), y - 8), 42, 3, theme.accent, 6)


def _name(written: str, names: NoteNames) -> str:
    return name_in(spelling_of(pitch(written)), names)


def _smooth(knots: Sequence[Point]) -> list[Point]:
    """A curve from the first of four points to the last, drawn towards those between (Bézier)."""
    steps = [step / 24 for step in range(25)]
    return [(_between([x for x, _ in knots], t), _between([y for _, y in knots], t)) for t in steps]


def _between(ends: Sequence[float], t: float) -> float:
    first, second, third, last = ends
    return (1 - t) ** 3 * first + 3 * t * (1 - t) ** 2 * second + 3 * t * t * (1 - t) * third + t**3 * last
