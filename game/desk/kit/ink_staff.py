"""A staff with notes in a row, each filled as far as it has come. The clef says in which octave they are read."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from game.desk import pencil
from game.desk.kit.by_pencil import draw_ring
from game.desk.kit.canvas import Canvas, Point, blend
from game.desk.kit.note_fill import Fill, FilledNote, empty_colour, fill_colour
from game.desk.theme import Colour
from game.engraving.outlines import ACCIDENTALS, Sign, clef_sign, sign_image, sign_origin, sign_width
from game.music.pitch import Pitch, pitch
from game.music.score import Reading

# In staff spaces: the room of the clef, from the left end to its left, and what ledger lines stand out beside a head.
_CLEF_ROOM, _CLEF_LEFT, _OVERHANG = 4.6, 0.55, 0.4
# How much wider a note with an accidental stands than one without.
_WITH_SIGN: Final = 1.84
# In staff spaces: what a note without an accidental takes. Where there are too many all are smaller, down to a share.
_NOTE_ROOM: Final = 1.36
_SMALLEST: Final = 0.7
_RING: Final = 2.5
_LIGHT: Final = {Fill.EMPTY: Sign.HALF_HEAD}


@dataclass(frozen=True, slots=True)
class StaffRoom:
    """Where a staff stands, in units: its ends, the top line, and the distance of two lines; and how it is read."""

    left: float
    right: float
    top: float
    space: float
    reading: Reading = Reading.GUITAR

    @property
    def bottom(self) -> float:
        """The height of the lowest line."""
        return self.top + 4 * self.space

    def y_of(self, written: str) -> float:
        """The height of the middle of a head."""
        return self.y_of_step(pitch(written).staff_step)

    def y_of_step(self, staff_step: int) -> float:
        """The height of a line or space, as `Pitch.staff_step` counts."""
        return self.top + (self.reading.clef.top_step - staff_step) * self.space / 2


def draw_ink_staff(canvas: Canvas, notes: Sequence[FilledNote], room: StaffRoom) -> tuple[Point, ...]:
    """Staff, clef and notes from left to right, spread over the room; returns the middles of their heads, in units."""
    draw_empty_staff(canvas, room)
    left = room.left + _CLEF_ROOM * room.space
    weights = [_WITH_SIGN if pitch(note.written).alter else 1.0 for note in notes]
    step = (room.right - left) / sum(weights) if notes else 0.0
    size = room.space * min(1.0, max(_SMALLEST, step / (_NOTE_ROOM * room.space)))
    middles = []
    for note, weight in zip(notes, weights, strict=True):
        left += weight * step
        # The head stands where its room ends: what comes before it is for the accidental.
        at = (left - 0.5 * step, room.y_of(note.written))
        draw_head(canvas, note, at, room, widest=step, size=size)
        middles.append(at)
    return tuple(middles)


def draw_empty_staff(canvas: Canvas, room: StaffRoom) -> None:
    """Five lines and the clef."""
    colour = blend(canvas.theme.paper, canvas.theme.ink, 0.8)
    thick = max(1, round(room.space * canvas.sheet.unit / 13))
    left, right = canvas.px(room.left), canvas.px(room.right)
    for line in range(5):
        y = canvas.px(room.top + line * room.space)
        canvas.surface.fill(colour, (left, y - thick // 2, right - left, thick))
    at = room.left + _CLEF_LEFT * room.space, room.y_of_step(room.reading.clef.own_step)
    _stand(canvas, clef_sign(room.reading), at, room.space, canvas.theme.ink)


def draw_head(
    canvas: Canvas, note: FilledNote, at: Point, room: StaffRoom, *, widest: float = 1e3, size: float = 0.0
) -> None:
    """A head without a stem, its middle `at`, with its accidental and its ledger lines, which are no wider than
    `widest` units. `size` is the staff space that head and accidental are made for, where it is not that of the staff.
    """
    written, colour, size = pitch(note.written), fill_colour(canvas, note.fill), size or room.space
    half = sign_width(Sign.BLACK_HEAD, size * canvas.sheet.unit) / canvas.sheet.unit / 2
    reach = min(half + _OVERHANG * room.space, max(half + 1, 0.46 * widest))
    faint = empty_colour(canvas) if note.fill is Fill.EMPTY else blend(canvas.theme.paper, canvas.theme.ink, 0.75)
    _draw_ledgers(canvas, written, at, room, reach, faint)
    if note.fill is Fill.PENCIL:
        image = pencil.notehead(size * canvas.sheet.unit * 1.12, colour, written.midi)
    else:
        image = sign_image(_LIGHT.get(note.fill, Sign.BLACK_HEAD), size * canvas.sheet.unit, colour)
    canvas.surface.blit(image, image.get_rect(center=canvas.point(at)))
    if written.alter:
        sign = ACCIDENTALS[written.alter]
        width = sign_width(sign, size * canvas.sheet.unit) / canvas.sheet.unit
        _stand(canvas, sign, (at[0] - half - 0.22 * size - width, at[1]), size, colour)
    if note.ringed or note.fill is Fill.DUE:
        ring = canvas.theme.accent if note.ringed else canvas.theme.pencil
        thick = 2.8 if note.ringed else 1.8
        draw_ring(canvas, at, _RING * room.space, thick, ring, written.midi)


def _draw_ledgers(canvas: Canvas, written: Pitch, at: Point, room: StaffRoom, half: float, colour: Colour) -> None:
    thick = max(1, round(room.space * canvas.sheet.unit / 12))
    for step in room.reading.clef.ledger_steps(written.staff_step):
        y = canvas.px(room.y_of_step(step))
        canvas.surface.fill(colour, (canvas.px(at[0] - half), y - thick // 2, canvas.px(2 * half), thick))


def _stand(canvas: Canvas, sign: Sign, at: Point, space: float, colour: Colour) -> None:
    """A sign with its own origin at a place: its left, on its line."""
    image = sign_image(sign, space * canvas.sheet.unit, colour)
    x, y = sign_origin(sign, space * canvas.sheet.unit)
    canvas.surface.blit(image, (round(at[0] * canvas.sheet.unit - x), round(at[1] * canvas.sheet.unit - y)))
