"""The picture of the map: every note above on its staff, every place below on the neck. In units."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from game.coach.notes.ink import Ink
from game.coach.notes.ink_of_map import InkedPitch, InkOfMap
from game.desk.kit.by_pencil import draw_ring
from game.desk.kit.canvas import Align, Canvas, Point, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.ink_neck import InkNeck, draw_ink_neck
from game.desk.kit.ink_staff import StaffRoom, draw_ink_staff
from game.desk.kit.note_fill import Fill, FilledNote, FilledPlace
from game.desk.typography import Face
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place
from game.screens.rows_in_sight import first_in_sight
from game.screens.setup.map_choice import LookedAt, frets_in_sight, out_of_sight
from game.text.catalogue import say

FILLS: Final = {Ink.NOT_MET: Fill.EMPTY, Ink.PENCIL: Fill.PENCIL, Ink.INK: Fill.INK, Ink.DUE: Fill.DUE}
LEFT, NECK_RIGHT, WORDS_LEFT, RIGHT_MARGIN = 70.0, 840.0, 880.0, 68.0
_STAFF_TOP, _STAFF_BOTTOM, _MOST_SPACE = 166.0, 306.0, 12.5
NECK_TOP: Final = 352.0
_NUMERALS_UP: Final = 50.0
_MOST_NECK: Final = 330.0
"""In a window that is much higher than wide the neck stays one that can be read."""
_NUMERAL_LEFT, _NUMERAL_STEP, _NUMERALS = 176.0, 63.0, 9
_HEAD_REACH: Final = 16.0
"""How far from a head a click still means it."""
BESIDE_NECK: Final = 16.0
"""How far beside the board the places stand that lie out of sight."""
_BESIDE_REACH: Final = 17.0

_AIR, _BESIDE_AIR, _LEAST_AIR = 60.0, 28.0, 20.0
"""Around what is followed where text is large; around head and place so little that both are seen at once."""

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
        second = self.neck_map.second
        return InkNeck(
            left=LEFT,
            top=NECK_TOP,
            width=NECK_RIGHT - LEFT,
            height=self.numerals_y - _NUMERALS_UP - NECK_TOP,
            first=first,
            last=last,
            position=self.neck_map.position,
            strings=len(self.neck_map.tuning.open_strings),
            left_handed=self.left_handed,
            capo=self.capo,
            second=second.position if second else None,
            span=self.neck_map.hand.span,
        )

    @property
    def numerals_y(self) -> float:
        """The baseline of the positions."""
        return min(self.foot - 26, NECK_TOP + _MOST_NECK + _NUMERALS_UP)

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

    @cached_property
    def beside(self) -> tuple[tuple[Place, Point], ...]:
        """The other places of what is looked at that lie beside the part of the neck in sight, and where each
        stands.
        """
        hidden = out_of_sight(self.neck_map, self.looked, more=self.more)
        return tuple((place, self._beside(place)) for place in hidden)

    def _beside(self, place: Place) -> Point:
        """Where a place out of sight is marked: at the end of its string, on the side it lies."""
        lower = place.fret <= self.neck.first
        left = lower != self.left_handed
        return LEFT - BESIDE_NECK if left else NECK_RIGHT + BESIDE_NECK, self.neck.string_y(place.string)

    def middle_of(self, place: Place) -> Point:
        """The middle of a place on the neck or, out of sight, of its mark beside it."""
        marked = dict(self.beside).get(place)
        return marked or self.neck.middle_of(place.string, place.fret)

    def inked(self, sounding: int) -> InkedPitch | None:
        """The note of a pitch with its home; None for a pitch without one."""
        return next((one for one in self.ink.pitches if one.sounding == sounding), None)

    def number_of(self, sounding: int) -> int | None:
        """Which of the notes a pitch is, from the lowest; None for a pitch without a home."""
        return next((at for at, one in enumerate(self.ink.pitches) if one.sounding == sounding), None)

    def place_at(self, at: Point) -> Place | None:
        """The place of the neck under a point, or whose mark beside it is there; None elsewhere."""
        for place, (x, y) in self.beside:
            if abs(x - at[0]) <= _BESIDE_REACH and abs(y - at[1]) <= _BESIDE_REACH:
                return place
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
        count = self.neck_map.highest_position
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

    def draw_staff(self, canvas: Canvas) -> tuple[Point, ...]:
        """Every note on the staff; returns the middles of the heads, from the lowest pitch on."""
        notes = [FilledNote(one.shown.written, FILLS[one.shown.ink]) for one in self.ink.pitches]
        return draw_ink_staff(canvas, notes, self.staff)

    def draw_neck(self, canvas: Canvas, names: NoteNames) -> None:
        """Every place on the neck, and the positions below."""
        draw_ink_neck(canvas, self.neck, [self._place(one, names) for one in self.ink.pitches])
        self._draw_positions(canvas)

    def followed(self, heads: Sequence[Point]) -> tuple[_Room, _Room] | None:
        """What is to be seen of the note that is looked at: head and place with what lies between, and the place, each
        as left, top, width and height; None where none is.
        """
        looked = self.looked
        number = self.number_of(looked.sounding) if looked else None
        if looked is None or number is None:
            return None
        x, y = self.middle_of(looked.other or self.ink.pitches[number].place)
        (head_x, head_y), air = heads[number], _AIR
        left, right = min(x, head_x) - _BESIDE_AIR, max(x, head_x) + _BESIDE_AIR
        both = (left, head_y - _LEAST_AIR, right - left, y - head_y + 2 * _LEAST_AIR)
        return both, (x - air, y - air, 2 * air, 2 * air)

    def _place(self, one: InkedPitch, names: NoteNames) -> FilledPlace:
        letters = name_in(spelling_of(pitch(one.shown.written)), names)
        return FilledPlace(one.place.string, one.place.fret, FILLS[one.ink], letters)

    def _draw_positions(self, canvas: Canvas) -> None:
        theme, y = canvas.theme, self.numerals_y
        words, style = fitted(canvas, say("map.positions"), Style(Face.ITALIC, 22, theme.faded), 84)
        canvas.write(words, (LEFT, y), style)
        for position in self.positions:
            here = position in self.neck_map.positions
            style = Style(Face.TITLE, 26, theme.ink) if here else Style(Face.TEXT, 24, theme.faded)
            canvas.write(roman(position), (self.numeral_x(position), y), style, Align.CENTRE)
            if here:
                draw_ring(canvas, (self.numeral_x(position), y - 8), 42, 3, theme.accent, 6)
