"""The picture of the end of a sitting. Places are in units; what is higher than 720 goes to the foot."""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.face_down import draw_face_down
from game.desk.kit.ground import READING_TOP, draw_ground
from game.desk.kit.ink_staff import StaffRoom, draw_empty_staff, draw_head, draw_ink_staff
from game.desk.kit.note_fill import Fill, FilledNote, hair_colour
from game.desk.typography import Face, shortened, text_width, wrapped
from game.music.pitch import pitch
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
_MOST_ABOVE_DAY: Final = 1
"""With more quicker notes above there is no room for a staff with all notes of the day."""

_SIGNED_TITLE, _SIGNED_LINE = 44.0, 31.0


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
        faint = hair_colour(canvas)
        if self._day_is_empty:
            self._draw_head_line(self.sheet.quicker_none)
        else:
            self._draw_quicker()
            self._draw_day()
            draw_pencil(canvas, [(DIVIDE, 146), (DIVIDE + 1, 488 + 0.6 * self._spare)], 1.6, faint, 17)
        ink = self._draw_ink()
        draw_pencil(canvas, [(LEFT, self._foot - 42), (self._right, self._foot - 44)], 1.6, faint, 18)
        self._draw_tomorrow()
        if self.sheet.unseen:
            draw_face_down(canvas, (SLIP_LEFT, self._foot - 6, 280, 104), say("today.unseen"), self.sheet.unseen)
        return ink

    @property
    def _day_is_empty(self) -> bool:
        """Whether nothing was read: then what is in ink has the whole sheet."""
        return not (self.sheet.read or self.sheet.quicker or self.sheet.signed)

    def _draw_head_line(self, text: str) -> None:
        """A sentence below the title, where else the aim is answered."""
        if not self.sheet.aim:
            self._write(text, (LEFT, _AIM), Style(Face.TEXT, 24, self.canvas.theme.ink), self._right)

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
        """The notes that come quicker; else that none does, over the notes of the day."""
        sheet, canvas = self.sheet, self.canvas
        if sheet.quicker:
            self._draw_head(say("good_night.quicker"), say("good_night.before_and_now"), LEFT, DIVIDE - 14)
        elif sheet.read or sheet.signed:
            self._draw_head(say("good_night.read"), "", LEFT, DIVIDE - 14)
        longest = max((note.before_s for note in sheet.quicker), default=1.0)
        scale = min(_UNITS_A_SECOND, (_BARS_END - self._bars_left) / longest)
        for number, note in enumerate(sheet.quicker):
            self._draw_note(note, _QUICKER_TOP + number * _QUICKER_STEP, scale, seed=3 + number)
        style = Style(Face.TEXT, 24, canvas.theme.ink)
        for number, line in enumerate(self._none_lines):
            canvas.write(line, (LEFT, _QUICKER_TOP + 6 + 34 * number), style)

    @property
    def _none_lines(self) -> tuple[str, ...]:
        """That no note is surely quicker, in lines."""
        px, room = self.canvas.px(24), self.canvas.px(DIVIDE - 30 - LEFT)
        return wrapped(self.sheet.quicker_none, Face.TEXT, px, room)

    def _draw_day(self) -> None:
        """Below the notes that come quicker, as far as there is room: all notes of the day, and what was signed."""
        sheet, quicker = self.sheet, len(self.sheet.quicker)
        top = _QUICKER_TOP + quicker * _QUICKER_STEP if quicker else _QUICKER_TOP + 34 * len(self._none_lines) - 20
        if sheet.read and quicker <= _MOST_ABOVE_DAY:
            if quicker:
                top += 26
                style = Style(Face.TITLE, 24, self.canvas.theme.ink)
                self.canvas.write(say("good_night.read"), (LEFT, top), style)
            top = self._draw_read(top)
        bottom = self._foot - 56
        if sheet.signed and top + _SIGNED_TITLE <= bottom:
            self._draw_signed(top + _SIGNED_TITLE, bottom)

    def _draw_read(self, top: float) -> float:
        """The notes of the day on a staff below `top`, larger where no quicker ones stand above; returns where its
        lowest print ends.
        """
        steps = [pitch(note.written).staff_step for note in self.sheet.read]
        space, gap = (10.0, 34.0) if self.sheet.quicker else (13.5, 52.0)
        reading = self.ink.reading
        above = max(0.0, (max(steps) - reading.clef.top_step) * space / 2)
        room = StaffRoom(LEFT, DIVIDE - 30, top + gap + above + 0.3 * self._spare, space, reading)
        draw_ink_staff(self.canvas, self.sheet.read, room)
        return max(room.bottom, *(room.y_of(note.written) for note in self.sheet.read)) + 12

    def _draw_signed(self, baseline: float, bottom: float) -> None:
        """The pages that were signed, each in a line, as many as there is room for; where there is room for the title
        only, behind that. How many more there are stands behind the last.
        """
        canvas, theme, signed = self.canvas, self.canvas.theme, self.sheet.signed
        head = Style(Face.TITLE, 24, theme.ink)
        canvas.write(say("good_night.signed"), (LEFT, baseline), head)
        left, most = LEFT, int((bottom - baseline) / _SIGNED_LINE)
        if not most:
            left, most = LEFT + canvas.width_of(say("good_night.signed"), head) + 16, 1
            baseline -= _SIGNED_LINE
        for number, title in enumerate(signed[:most], start=1):
            more = len(signed) - most if number == most else 0
            self._write_signed(title, more, (left, baseline + number * _SIGNED_LINE))

    def _write_signed(self, title: str, more: int, at: tuple[float, float]) -> None:
        """A page that was signed, and how many `more` there are; 0 says nothing."""
        canvas, theme = self.canvas, self.canvas.theme
        quiet, said = Style(Face.ITALIC, 22, theme.faded), say("good_night.signed_more", count=more) if more > 0 else ""
        after = canvas.width_of(said, quiet) + 10 if said else 0.0
        style, right = Style(Face.TEXT, 23, theme.read), DIVIDE - 20 - after
        shown = shortened(title, style.face, canvas.px(style.size), canvas.px(right) - canvas.px(at[0]))
        end = canvas.write(shown, at, style).right / canvas.sheet.unit
        if said:
            canvas.write(said, (end + 10, at[1]), quiet)

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
        room = StaffRoom(LEFT, LEFT + 110, top, _SPACE, self.ink.reading)
        draw_empty_staff(canvas, room)
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
        left = LEFT if self._day_is_empty else INK_LEFT
        self._draw_head(self.sheet.ink_title, self.sheet.new_in_ink, left, self._right)
        room = StaffRoom(left, self._right, 218, 11)
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
