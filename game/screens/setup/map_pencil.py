"""What the red pencil draws on the map: the line from a written note to its home, every other place of it, and the seam
of two regions. In units.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from game.desk.kit.by_pencil import draw_pencil, draw_ring
from game.desk.kit.canvas import Align, Canvas, Point, Style
from game.desk.kit.inked import draw_dot
from game.desk.typography import Face
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch
from game.neck.neck_map import roman
from game.neck.tuning import Place
from game.screens.setup.map_choice import LookedAt, other_places
from game.screens.setup.map_sheet import LEFT, NECK_RIGHT, MapSheet
from game.screens.setup.map_words import named

_BETWEEN_COLUMNS: Final = 0.55
_MARK, _MARK_LETTERS = 28.0, 20.0


@dataclass(frozen=True, slots=True)
class MapPencil:
    """The pencil over a map whose heads stand at `heads`, from the lowest pitch on."""

    canvas: Canvas
    sheet: MapSheet
    heads: Sequence[Point]
    names: NoteNames

    def draw_looked_at(self, looked: LookedAt) -> None:
        """Ring the note and its home and tie them; its other places stand there in red, the picked one ringed."""
        number = self.sheet.number_of(looked.sounding)
        if number is not None:
            place = self.sheet.ink.pitches[number].place
            self._draw_line_of_staff(number)
            self._tie(self.heads[number], self.sheet.neck.middle_of(place.string, place.fret))
        for place in other_places(self.sheet.neck_map, looked.sounding):
            self._draw_other(place, looked, picked=place == looked.other)

    def _draw_line_of_staff(self, number: int) -> None:
        """A stroke along the line or space of the staff that a note stands on, from the clef up to it: that is what is
        read of it.
        """
        head, staff = self.heads[number], self.sheet.staff
        step = pitch(self.sheet.ink.pitches[number].shown.written).staff_step
        clef = self.sheet.neck_map.reading.clef
        if not clef.bottom_step <= step <= clef.top_step:
            return
        begin, end = LEFT + 4.2 * staff.space, head[0] - 2.2 * staff.space
        if end - begin > staff.space:
            draw_pencil(self.canvas, [(begin, head[1]), (end, head[1])], 2.4, self.canvas.theme.accent, 17)

    def _tie(self, head: Point, place: Point) -> None:
        accent, neck, staff = self.canvas.theme.accent, self.sheet.neck, self.sheet.staff
        draw_ring(self.canvas, head, 2.6 * staff.space, 3, accent, 4)
        draw_ring(self.canvas, place, neck.dot + 10, 3, accent, 5)
        towards = 1.0 if place[0] <= head[0] else -1.0
        beside = towards * _BETWEEN_COLUMNS * self._column(place[0])
        if not LEFT <= place[0] + beside <= NECK_RIGHT:
            towards, beside = -towards, -beside
        # Above the neck it goes along, and comes down between two columns of places, over none of them.
        over, above, down = max(staff.bottom, head[1]) + 40, neck.top - 12, place[0] + beside
        begin = (head[0] - 6 * towards, head[1] + 1.4 * staff.space)
        along = [begin, (head[0] + (down - head[0]) * 0.12, over), (down, min(over, above)), (down, neck.top)]
        end = (place[0] + 0.45 * neck.dot * towards, place[1] - 0.6 * neck.dot)
        last = max(neck.top, end[1] - 0.9 * self._string_gap)
        into = [(down, last), (down, end[1]), end, end]
        draw_pencil(self.canvas, [*_smooth(along), *_smooth(into)], 2.6, accent, 21)

    @property
    def _string_gap(self) -> float:
        return self.sheet.neck.height / self.sheet.neck.strings

    def _column(self, x: float) -> float:
        """How wide the fret is whose middle is at `x`."""
        neck = self.sheet.neck
        frets = range(max(1, neck.first + 1), neck.last + 1)
        middles = [(abs(neck.middle_of(1, fret)[0] - x), fret) for fret in frets]
        nearest = min(middles)[1]
        return abs(neck.fret_x(nearest) - neck.fret_x(nearest - 1))

    def _draw_other(self, place: Place, looked: LookedAt, *, picked: bool) -> None:
        canvas, accent, dot = self.canvas, self.canvas.theme.accent, self.sheet.neck.dot
        if place in dict(self.sheet.beside):
            self._draw_beside(place)
            return
        at, thick = self.sheet.middle_of(place), 3.4 if picked else 2.4
        draw_dot(canvas, at, dot, canvas.theme.paper)
        draw_ring(canvas, at, dot, thick, accent, 12)
        if picked:
            draw_ring(canvas, at, dot + 12, 2.4, accent, 13)
        letters = Style(Face.TITLE if picked else Face.TEXT, _MARK_LETTERS, accent)
        canvas.write(self._name(looked), (at[0], at[1] + 6.6), letters, Align.CENTRE)

    def _draw_beside(self, place: Place) -> None:
        """A place out of sight: its fret in a ring at the end of its string."""
        canvas, accent = self.canvas, self.canvas.theme.accent
        x, y = self.sheet.middle_of(place)
        draw_dot(canvas, (x, y), _MARK - 3, canvas.theme.paper)
        draw_ring(canvas, (x, y), _MARK, 2.2, accent, place.string + 30)
        canvas.write(str(place.fret), (x, y + 6.6), Style(Face.TEXT, _MARK_LETTERS, accent), Align.CENTRE)

    def _name(self, looked: LookedAt) -> str:
        found = self.sheet.inked(looked.sounding)
        if found is None:
            return named(looked.sounding, self.sheet.neck_map, self.names)
        return name_in(spelling_of(pitch(found.shown.written)), self.names)

    def draw_seam(self) -> None:
        """Where two regions are joined: a stroke down through the staff with the position on either side, and on the
        neck the way from the last home of the lower one to the first of the higher.
        """
        second = self.sheet.neck_map.second
        if second is None:
            return
        below = [at for at, one in enumerate(self.sheet.ink.pitches) if one.sounding < second.seam]
        above = [at for at, one in enumerate(self.sheet.ink.pitches) if one.sounding >= second.seam]
        if not below or not above:
            return
        last, first = below[-1], above[0]
        self._draw_seam_of_staff(self.heads[last], self.heads[first])
        places = [self.sheet.ink.pitches[at].place for at in (last, first)]
        ends = [self.sheet.neck.middle_of(place.string, place.fret) for place in places]
        draw_pencil(self.canvas, ends, 2.6, self.canvas.theme.pencil, 41, dashes=(9.0, 7.0))

    def _draw_seam_of_staff(self, last: Point, first: Point) -> None:
        canvas, staff, theme = self.canvas, self.sheet.staff, self.canvas.theme
        # Nearer to the note below: the one above may have its accidental before it.
        x = last[0] + 0.36 * (first[0] - last[0])
        top, bottom = staff.top - 1.6 * staff.space, staff.top + 5.6 * staff.space
        draw_pencil(canvas, [(x, top), (x, bottom)], 2.6, theme.pencil, 42, dashes=(9.0, 7.0))
        style = Style(Face.TEXT, 22, theme.faded)
        lower, higher = (roman(position) for position in self.sheet.neck_map.positions)
        canvas.write(lower, (x - 9, top + 2), style, Align.RIGHT)
        canvas.write(higher, (x + 9, bottom + 4), style)


def _smooth(knots: Sequence[Point]) -> list[Point]:
    """A curve from the first of four points to the last, drawn towards those between (Bézier)."""
    steps = [step / 24 for step in range(25)]
    return [(_between([x for x, _ in knots], t), _between([y for _, y in knots], t)) for t in steps]


def _between(ends: Sequence[float], t: float) -> float:
    first, second, third, last = ends
    return (1 - t) ** 3 * first + 3 * t * (1 - t) ** 2 * second + 3 * t * t * (1 - t) * third + t**3 * last
