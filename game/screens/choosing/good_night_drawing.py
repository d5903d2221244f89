"""The picture of the end of a sitting. Places are in units; what is higher than 720 goes to the foot."""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.face_down import draw_face_down
from game.desk.kit.ground import READING_TOP, draw_ground
from game.desk.kit.ink_staff import StaffRoom, draw_empty_staff, draw_head
from game.desk.kit.note_fill import Fill, FilledNote, hair_colour
from game.desk.typography import Face, shortened, text_width, wrapped
from game.screens.choosing.good_night_words import GoodNightSheet, QuickerNote
from game.screens.ink_drawing import InkSheet, draw_ink_sheet
from game.text.catalogue import say

LEFT, DIVIDE, INK_LEFT, SLIP_LEFT = 70.0, 650.0, 680.0, 640.0
_RIGHT_MARGIN: Final = 70.0
_FULL_HEIGHT: Final = 720.0
_MOST_SPARE: Final = 160.0
_TITLE, _AIM, _HEADS = 88.0, 124.0, 168.0
_QUICKER_TOP, _QUICKER_STEP, _SPACE = 204.0, 104.0, 9.5
_NAME_LEFT, _BARS_LEFT, _BARS_END, _UNITS_A_SECOND = 200.0, 298.0, 556.0, 112.0
_NECK_HEIGHT: Final = 140.0
_NAME_SIZE: Final = 26.0
_ROW, _BELOW = 57.0, 25.0


@dataclass(frozen=True, slots=True)
class GoodNightDrawing:
    """The end of a sitting on a canvas."""

    canvas: Canvas
    sheet: GoodNightSheet
    ink: InkSheet

    @property
    def _foot(self) -> float:
        """The baseline of the word tomorrow."""
        return 558 + 0.85 * self._spare

    @property
    def _spare(self) -> float:
        higher = self.canvas.sheet.size[1] / self.canvas.sheet.unit - _FULL_HEIGHT
        return min(_MOST_SPARE, max(0.0, higher))

    @property
    def _right(self) -> float:
        return self.canvas.sheet.size[0] / self.canvas.sheet.unit - _RIGHT_MARGIN

    def draw(self) -> pygame.Rect:
        """All of it but corner and keys; returns the pixels of staff and neck, which can be clicked."""
        canvas = self.canvas
        draw_ground(canvas, READING_TOP)
        self._draw_title()
        self._draw_quicker()
        faint = hair_colour(canvas)
        draw_pencil(canvas, [(DIVIDE, 146), (DIVIDE + 1, 488 + 0.6 * self._spare)], 1.6, faint, 17)
        ink = self._draw_ink()
        draw_pencil(canvas, [(LEFT, self._foot - 42), (self._right, self._foot - 44)], 1.6, faint, 18)
        self._draw_tomorrow()
        if self.sheet.unseen:
            draw_face_down(canvas, (SLIP_LEFT, self._foot - 6, 280, 104), say("today.unseen"), self.sheet.unseen)
        return ink

    def _draw_title(self) -> None:
        canvas, theme = self.canvas, self.canvas.theme
        title = canvas.write(say("good_night.title"), (LEFT, _TITLE), Style(Face.TITLE, 44, theme.ink))
        left = title.right / canvas.sheet.unit + 22
        self._write(self.sheet.played, (left, _TITLE), Style(Face.ITALIC, 24, theme.faded), self._right)
        if self.sheet.aim:
            label = Style(Face.TITLE, 24, theme.accent)
            canvas.write(say("today.aim"), (LEFT, _AIM), label)
            left = LEFT + canvas.width_of(say("today.aim") + " ", label)
            self._write(self.sheet.aim, (left, _AIM), Style(Face.TEXT, 24, theme.ink), self._right)

    def _write(self, text: str, at: tuple[float, float], style: Style, right: float) -> None:
        """A line, cut where it has no more room."""
        room = self.canvas.px(right) - self.canvas.px(at[0])
        self.canvas.write(shortened(text, style.face, self.canvas.px(style.size), room), at, style)

    def _draw_head(self, title: str, below: str, left: float, right: float) -> None:
        canvas, theme = self.canvas, self.canvas.theme
        end = canvas.write(title, (left, _HEADS), Style(Face.TITLE, 27, theme.ink)).right / canvas.sheet.unit
        self._write(below, (end + 16, _HEADS), Style(Face.ITALIC, 23, theme.faded), right)

    def _draw_quicker(self) -> None:
        sheet, canvas = self.sheet, self.canvas
        below = say("good_night.before_and_now") if sheet.quicker else ""
        self._draw_head(say("good_night.quicker"), below, LEFT, DIVIDE - 14)
        longest = max((note.before_s for note in sheet.quicker), default=1.0)
        scale = min(_UNITS_A_SECOND, (_BARS_END - self._bars_left) / longest)
        for number, note in enumerate(sheet.quicker):
            self._draw_note(note, _QUICKER_TOP + number * _QUICKER_STEP, scale, seed=3 + number)
        style = Style(Face.TEXT, 24, canvas.theme.ink)
        for number, line in enumerate(
            wrapped(sheet.quicker_none, style.face, canvas.px(style.size), canvas.px(DIVIDE - 30 - LEFT))
        ):
            canvas.write(line, (LEFT, _QUICKER_TOP + 24 + 34 * number), style)

    @property
    def _bars_left(self) -> float:
        """Where the strokes begin: behind the longest name."""
        name = Style(Face.TEXT, _NAME_SIZE, self.canvas.theme.ink)
        return max(
            _BARS_LEFT, *(_NAME_LEFT + 16 + self.canvas.width_of(one.name, name) for one in self.sheet.quicker), 0
        )

    def _draw_note(self, note: QuickerNote, top: float, scale: float, seed: int) -> None:
        """A note on its staff, a stroke in pencil for the seconds before, and one in ink for those now."""
        canvas, theme = self.canvas, self.canvas.theme
        room = StaffRoom(LEFT, LEFT + 110, top, _SPACE)
        draw_empty_staff(canvas, room, self.ink.reading)
        draw_head(canvas, FilledNote(note.written, Fill.PRINT), (LEFT + 78, room.y_of(note.written)), room)
        canvas.write(note.name, (_NAME_LEFT, top + 28), Style(Face.TEXT, _NAME_SIZE, theme.ink))
        left = self._bars_left
        before, now = left + note.before_s * scale, left + note.now_s * scale
        quiet = blend(theme.paper, theme.pencil, 0.8)
        draw_pencil(canvas, [(left, top + 6), (before, top + 5)], 4, quiet, seed)
        draw_pencil(canvas, [(left, top + 34), (now, top + 33)], 9, theme.read, seed + 5)
        canvas.write(note.before, (before + 12, top + 13), Style(Face.FIGURES, 23, theme.faded))
        canvas.write(note.now, (now + 14, top + 43), Style(Face.FIGURES, 27, theme.read))

    def _draw_ink(self) -> pygame.Rect:
        self._draw_head(self.sheet.ink_title, self.sheet.new_in_ink, INK_LEFT, self._right)
        room = StaffRoom(INK_LEFT, self._right, 218, 11)
        height = _NECK_HEIGHT + 0.4 * self._spare
        return draw_ink_sheet(self.canvas, self.ink, room, neck_height=height, legend=False)

    def _draw_tomorrow(self) -> None:
        canvas, theme = self.canvas, self.canvas.theme
        canvas.write(say("good_night.next"), (LEFT, self._foot), Style(Face.TITLE, 27, theme.accent))
        style, quiet = Style(Face.TEXT, 23, theme.ink), Style(Face.ITALIC, 21, theme.faded)
        px, right = canvas.px(style.size), SLIP_LEFT - 18
        for number, row in enumerate(self.sheet.tomorrow):
            baseline = self._foot + 30 + _ROW * number
            room = canvas.px(right - LEFT) - text_width(row.bars, style.face, px)
            end = canvas.write(shortened(row.title, style.face, px, room), (LEFT, baseline), style).right
            if row.bars:
                canvas.write(row.bars, (end / canvas.sheet.unit, baseline), style)
            self._write(row.below, (LEFT, baseline + _BELOW), quiet, right)
