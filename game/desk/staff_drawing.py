"""A staff with every note that was read in its place, the darker the quicker it is found, the slowest ringed.

What it says is in the shade first and in the ring and its seconds; colour only says it again.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import pygame

from game.desk import pencil
from game.desk.shading import ShadedNote
from game.desk.theme import Colour, Theme
from game.desk.typography import Face
from game.engraving.outlines import (
    ACCIDENTALS,
    LEDGER_OVERHANG,
    Sign,
    ledger_steps,
    sign_image,
    sign_origin,
    sign_width,
)
from game.engraving.raster import line_px
from game.engraving.shapes import TOP_LINE_STEP
from game.music.pitch import Pitch, pitch
from game.music.score import Reading
from game.text.catalogue import in_figures

# In staff spaces: the clef's place, room for a note and for its accidental, above and below the outermost print.
_CLEF, _NOTE, _SIGN, _ABOVE, _BELOW = 4.3, 1.9, 1.1, 2.6, 1.2
_CLEF_ABOVE, _CLEF_BELOW = 1.6, 2.6
_BOTTOM_LINE_STEP, _CLEF_STEP = TOP_LINE_STEP - 8, TOP_LINE_STEP - 6
# The inked edge of a head, so that a pale one is seen on paper.
_EDGE, _INSIDE = 1.1, 0.86
_LARGEST_PX = 26.0
# Few notes stand wider, but not lost.
_MOST_STRETCH = 1.6


@dataclass(frozen=True, slots=True, kw_only=True)
class StaffDrawing:
    """A staff drawn in `room`, as large as it goes there: notes from the lowest to the highest, each in a place of its
    own. `reading` chooses the clef.
    """

    room: pygame.Rect
    notes: Sequence[ShadedNote]
    reading: Reading = Reading.GUITAR

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """What stands there, from left to right."""
        return tuple(pitch(note.written) for note in self.notes)

    @property
    def space_px(self) -> float:
        """The distance of two staff lines."""
        above, below = self._extent
        return min(_LARGEST_PX, self.room.width / self._width, self.room.height / (above + 4 + below))

    @property
    def _extent(self) -> tuple[float, float]:
        """Staff spaces above the top line and below the bottom line."""
        steps = [one.staff_step for one in self.pitches] or [TOP_LINE_STEP]
        above = max(_CLEF_ABOVE, (max(steps) - TOP_LINE_STEP) / 2 + _ABOVE)
        below = max(_CLEF_BELOW, (_BOTTOM_LINE_STEP - min(steps)) / 2 + _BELOW)
        return above, below

    @property
    def _width(self) -> float:
        """Staff spaces from end to end."""
        return _CLEF + sum(_NOTE + (_SIGN if one.alter else 0) for one in self.pitches) + 0.5

    @property
    def _top_y(self) -> float:
        above, below = self._extent
        spare = self.room.height - (above + 4 + below) * self.space_px
        return self.room.top + spare / 2 + above * self.space_px

    def step_y(self, staff_step: int) -> float:
        """The middle of a line or space, ledger lines included, in pixels from the window's top."""
        return self._top_y + (TOP_LINE_STEP - staff_step) * self.space_px / 2

    @property
    def centres(self) -> tuple[tuple[float, float], ...]:
        """The middles of the heads, from left to right."""
        space, top_y = self.space_px, self._top_y
        wide = space * min(_MOST_STRETCH, self.room.width / (self._width * space))
        right = self.room.left + _CLEF * space
        centres = []
        for one in self.pitches:
            right += (_NOTE + (_SIGN if one.alter else 0)) * wide
            centres.append((right - _NOTE / 2 * wide, top_y + (TOP_LINE_STEP - one.staff_step) * space / 2))
        return tuple(centres)

    def draw(self, surface: pygame.Surface, theme: Theme) -> None:
        """Draw staff, clef and notes."""
        space = self.space_px
        centres = self.centres
        right = centres[-1][0] + 1.4 * space if centres else self.room.right
        thick = line_px(round(space))
        for line in range(5):
            y = round(self.step_y(TOP_LINE_STEP - 2 * line)) - thick // 2
            surface.fill(theme.pencil, (self.room.left, y, round(right) - self.room.left, thick))
        clef = Sign.G_CLEF_8_BELOW if self.reading.octaves_down else Sign.G_CLEF
        _stand(surface, clef, (self.room.left + 0.4 * space, self.step_y(_CLEF_STEP)), space, theme.ink)
        for note, centre in zip(self.notes, centres, strict=True):
            self._draw_note(surface, note, centre, theme)

    def _draw_note(self, surface: pygame.Surface, note: ShadedNote, centre: tuple[float, float], theme: Theme) -> None:
        written, space = pitch(note.written), self.space_px
        x, y = centre
        half = sign_width(Sign.BLACK_HEAD, space) / 2
        for step in ledger_steps(written.staff_step):
            left, width = x - half - LEDGER_OVERHANG * space, 2 * (half + LEDGER_OVERHANG * space)
            surface.fill(theme.pencil, (round(left), round(self.step_y(step)), round(width), line_px(round(space))))
        if written.alter:
            sign = ACCIDENTALS[written.alter]
            at = (x - half - 0.25 * space - sign_width(sign, space), y)
            _stand(surface, sign, at, space, theme.ink)
        for size, colour in ((_EDGE, theme.ink), (_INSIDE, _between(theme.paper, theme.read, note.shade))):
            head = sign_image(Sign.BLACK_HEAD, size * space, colour)
            surface.blit(head, head.get_rect(center=(round(x), round(y))))
        if note.ringed:
            self._ring(surface, note, centre, theme)

    def _ring(self, surface: pygame.Surface, note: ShadedNote, centre: tuple[float, float], theme: Theme) -> None:
        space = self.space_px
        circle = pencil.ring(space * 2.1, max(1.5, space * 0.13), theme.accent, seed=pitch(note.written).midi)
        surface.blit(circle, circle.get_rect(center=centre))
        if note.find_s is not None:
            seconds = pencil.letters(
                in_figures(note.find_s, ".1f"), Face.FIGURES, max(11, round(space * 1.15)), theme.accent
            )
            surface.blit(seconds, seconds.get_rect(midbottom=(centre[0], centre[1] - 1.1 * space)))


def draw_staff(
    surface: pygame.Surface,
    room: pygame.Rect,
    notes: Sequence[ShadedNote],
    theme: Theme,
    *,
    reading: Reading = Reading.GUITAR,
) -> None:
    """Draw `game.desk.shading.shaded` notes on a staff in `room`."""
    StaffDrawing(room=room, notes=notes, reading=reading).draw(surface, theme)


def _stand(surface: pygame.Surface, sign: Sign, at: tuple[float, float], space: float, colour: Colour) -> None:
    """A sign with its own origin at a point: its left, on its line."""
    image = sign_image(sign, space, colour)
    origin = sign_origin(sign, space)
    surface.blit(image, (round(at[0] - origin[0]), round(at[1] - origin[1])))


def _between(first: Colour, second: Colour, share: float) -> Colour:
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(first, second, strict=True))
    return red, green, blue
