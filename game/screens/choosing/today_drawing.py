"""The picture of Today. Places are in units; what is higher than 720 goes to rows, neck and the foot."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.boxed_key import HIT_HEIGHT, draw_key, key_width
from game.desk.kit.by_pencil import draw_pencil, draw_ring, draw_tick
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.face_down import draw_face_down
from game.desk.kit.fitted_line import fitted
from game.desk.kit.ink_staff import StaffRoom
from game.desk.kit.key_rows import ROW_HEIGHT
from game.desk.kit.note_fill import hair_colour
from game.desk.typography import Face, shortened, text_width, wrapped
from game.screens.choosing.today_sheet import RowState, TodayRow, TodaySheet
from game.screens.ink_drawing import draw_ink_sheet
from game.screens.rows_in_sight import first_in_sight
from game.text.catalogue import say

_DRAWN_HEIGHT: Final = 720.0
_MOST_SPARE: Final = 160.0
LEFT, ROWS_RIGHT, ROW_LEFT, INK_LEFT = 70.0, 594.0, 116.0, 650.0
RIGHT_MARGIN: Final = 68.0
_TITLE_BASELINE, _AIM_BASELINE, _ROWS_TOP = 122.0, 164.0, 190.0
_STEP, _LEAST_STEP, _CLOSE_STEP = 60.0, 52.0, 40.0
_REMARK_LINE: Final = 32.0
_MORE_ROOM: Final = 24.0
_CORNER_ROOM, _CORNER_ROOM_BESIDE_SLIP = 480.0, 196.0
_AIM_SIZE, _LONG_AIM_SIZE, _LONG_AIM_LINE = 27.0, 23.0, 28.0
_MOST_AIM_LINES: Final = 2


@dataclass(frozen=True, slots=True)
class RowPlace:
    """Where a row stands that is in sight, in units: its upper edge and its height."""

    index: int
    top: float
    height: float


@dataclass(frozen=True, slots=True)
class TodayDrawing:
    """Today on a canvas: `chosen` is the row that Enter begins, `hands` whether a row at the foot tells of a guitar."""

    canvas: Canvas
    sheet: TodaySheet
    chosen: int
    hands: bool = False

    @property
    def _spare(self) -> float:
        """Units beyond those of a window of 1280 by 720, as far as they are used."""
        higher = self.canvas.sheet.size[1] / self.canvas.sheet.unit - _DRAWN_HEIGHT
        return min(_MOST_SPARE, max(0.0, higher))

    @property
    def _right(self) -> float:
        return self.canvas.sheet.size[0] / self.canvas.sheet.unit - RIGHT_MARGIN

    @property
    def _advice(self) -> str:
        """What stands at the foot instead of the remark while the row it belongs to is chosen."""
        rows = self.sheet.rows
        return rows[self.chosen].advice if self.chosen < len(rows) else ""

    @property
    def _remark_lines(self) -> tuple[str, ...]:
        """All of the remark; where that leaves assignments without room, its first sentence: they are due on a day."""
        if self._advice:
            return self._wrapped((self._advice,))
        whole = self._wrapped(self.sheet.remark)
        rows = self.sheet.rows
        needed = _STEP + (len(rows) - 1) * _CLOSE_STEP
        crowded = any(row.assignment for row in rows) and needed > self._room_above(whole)
        return self._wrapped(self.sheet.remark[:1]) if crowded else whole

    def _wrapped(self, remark: Iterable[str]) -> tuple[str, ...]:
        px, room = self.canvas.px(23), self.canvas.px(ROWS_RIGHT - LEFT)
        return tuple(line for text in remark for line in wrapped(text, Face.TEXT, px, room))

    @property
    def _consequence_lines(self) -> tuple[str, ...]:
        px, room = self.canvas.px(22), self.canvas.px(ROWS_RIGHT - LEFT)
        return () if self._advice else wrapped(self.sheet.consequence, Face.ITALIC, px, room)

    @property
    def _remark_top(self) -> float:
        """The baseline of the remark's title: as far down as its lines let it."""
        return self._top_of(self._remark_lines)

    def _room_above(self, remark: Sequence[str]) -> float:
        """The height that a remark leaves for the rows."""
        return self._top_of(remark) - 54 - self._rows_top

    def _top_of(self, remark: Sequence[str]) -> float:
        lines = len(remark) + len(self._consequence_lines)
        foot = 632 + self._spare - (ROW_HEIGHT if self.hands else 0.0)
        return min(552 + 0.85 * self._spare, foot - _REMARK_LINE * lines)

    @property
    def rows(self) -> tuple[RowPlace, ...]:
        """Where the rows in sight stand. Where there are many they are closer, then only the chosen one tells why, and
        then as many are in sight as there is room for, the chosen one among them.
        """
        count, room = len(self.sheet.rows), self._room_above(self._remark_lines)
        if not count:
            return ()
        if count * _LEAST_STEP <= room:
            step = min(_STEP + 0.14 * self._spare, room / count)
            return tuple(RowPlace(index, self._rows_top + index * step, step) for index in range(count))
        shown = min(count, 1 + int((room - _STEP) / _CLOSE_STEP))
        if shown < count:
            shown = min(count, 1 + int((room - _MORE_ROOM - _STEP) / _CLOSE_STEP))
        first = first_in_sight(chosen=min(self.chosen, count - 1), shown=shown, count=count)
        found, top = [], self._rows_top
        for index in range(first, first + shown):
            height = _STEP if index == self.chosen else _CLOSE_STEP
            found.append(RowPlace(index, top, height))
            top += height
        return tuple(found)

    def row_at(self, at: tuple[int, int]) -> int | None:
        """The row under a pixel."""
        for row in self.rows:
            if self.canvas.rect(LEFT - 8, row.top, ROWS_RIGHT + 8 - LEFT, row.height).collidepoint(at):
                return row.index
        return None

    @property
    def chosen_rect(self) -> pygame.Rect | None:
        """The pixels of the chosen row; None where all is done."""
        for row in self.rows:
            if row.index == self.chosen:
                return self.canvas.rect(LEFT - 8, row.top, ROWS_RIGHT + 8 - LEFT, row.height)
        return None

    def draw_left(self) -> tuple[pygame.Rect, pygame.Rect]:
        """Title, aim, rows and remark; returns the boxes of fewer and of more minutes."""
        boxes = self._draw_title()
        self._draw_aim()
        rows = self.rows
        for place in rows:
            self._draw_row(self.sheet.rows[place.index], place)
        if rows and rows[-1].index + 1 < len(self.sheet.rows):
            more = say("today.more_below", count=len(self.sheet.rows) - rows[-1].index - 1)
            at = (ROW_LEFT, rows[-1].top + rows[-1].height + 18)
            self.canvas.write(more, at, Style(Face.ITALIC, 21, self.canvas.theme.faded))
        self._draw_remark()
        faint = hair_colour(self.canvas)
        foot = 500 + 0.7 * self._spare
        draw_pencil(self.canvas, [(622, 108), (623, foot)], 1.6, faint, 17)
        return boxes

    def _draw_title(self) -> tuple[pygame.Rect, pygame.Rect]:
        canvas, theme = self.canvas, self.canvas.theme
        title = canvas.write(say("today.title"), (LEFT, _TITLE_BASELINE), Style(Face.TITLE, 42, theme.ink))
        quiet = Style(Face.ITALIC, 23, theme.faded)
        more = ROWS_RIGHT + 3 - key_width(canvas, "→")
        fewer = more - 7 - key_width(canvas, "←")
        right = fewer - 12
        minutes = canvas.write(self.sheet.minutes, (right, _TITLE_BASELINE), quiet, Align.RIGHT)
        left, unit = title.right / canvas.sheet.unit + 18, canvas.sheet.unit
        room = minutes.left / unit - 14 - left
        day = next((text for text in self.sheet.day if canvas.width_of(text, quiet) <= room), "")
        canvas.write(day, (left, _TITLE_BASELINE), quiet)
        boxes = []
        for label, x in (("←", fewer), ("→", more)):
            draw_key(canvas, label, (x, _TITLE_BASELINE - 7))
            width = key_width(canvas, label)
            boxes.append(canvas.rect(x - 3, _TITLE_BASELINE - 7 - HIT_HEIGHT / 2, width + 6, HIT_HEIGHT))
        return boxes[0], boxes[1]

    @property
    def _aim_lines(self) -> tuple[tuple[str, ...], Style]:
        """The aim in one line, in smaller type in two, and cut where it is longer than that."""
        canvas, aim = self.canvas, self.sheet.aim or self.sheet.plan_note
        face = Face.TEXT if self.sheet.aim else Face.ITALIC
        one, two = (Style(face, size, canvas.theme.ink) for size in (_AIM_SIZE, _LONG_AIM_SIZE))
        room = ROWS_RIGHT - LEFT - self._aim_label
        if canvas.width_of(aim, one) <= room:
            return (aim,) if aim else (), one
        px, room_px = canvas.px(two.size), canvas.px(room)
        lines = wrapped(aim, face, px, room_px)
        if len(lines) > _MOST_AIM_LINES:
            lines = (lines[0], shortened(" ".join(lines[1:]), face, px, room_px))
        return lines, two

    @property
    def _aim_label(self) -> float:
        """How wide the word before the aim is, with its space."""
        label = Style(Face.TITLE, _AIM_SIZE, self.canvas.theme.accent)
        return self.canvas.width_of(say("today.aim") + " ", label) + 2 if self.sheet.aim else 0.0

    def _draw_aim(self) -> None:
        """What this sitting is for, in red."""
        canvas = self.canvas
        lines, style = self._aim_lines
        first = _AIM_BASELINE - (6 if len(lines) > 1 else 0)
        if self.sheet.aim:
            canvas.write(say("today.aim"), (LEFT, first), Style(Face.TITLE, _AIM_SIZE, canvas.theme.accent))
        for number, line in enumerate(lines):
            canvas.write(line, (LEFT + self._aim_label, first + _LONG_AIM_LINE * number), style)

    @property
    def _rows_top(self) -> float:
        return _ROWS_TOP + (16 if len(self._aim_lines[0]) > 1 else 0)

    def _draw_row(self, row: TodayRow, place: RowPlace) -> None:
        canvas, theme = self.canvas, self.canvas.theme
        chosen, baseline = place.index == self.chosen, place.top + 26
        over = row.state in (RowState.DONE, RowState.SKIPPED)
        self._draw_mark(row, baseline, place.index, chosen=chosen)
        minutes = Style(Face.TEXT, 23, theme.accent if row.late else theme.faded)
        left_of_minutes = canvas.write(row.minutes, (ROWS_RIGHT, baseline), minutes, Align.RIGHT).left
        style = Style(Face.TITLE if chosen else Face.TEXT, 27, theme.faded if over and not chosen else theme.ink)
        room = left_of_minutes - canvas.px(ROW_LEFT + 16)
        self._write_title(row, baseline, style, room)
        if place.height >= _LEAST_STEP:
            below, style = self._below(row, Style(Face.ITALIC, 21, theme.accent if row.late else theme.faded))
            canvas.write(below, (ROW_LEFT, baseline + 26), style)

    def _below(self, row: TodayRow, style: Style) -> tuple[str, Style]:
        """The first of the lines for a row that has room, a little smaller if need be; else the last one, cut."""
        for text in (row.below, *row.shorter):
            found, smaller = fitted(self.canvas, text, style, ROWS_RIGHT - ROW_LEFT)
            if found == text:
                break
        return found, smaller

    def _write_title(self, row: TodayRow, baseline: float, style: Style, room: int) -> None:
        """The title of a row with its bars, in so many pixels: set smaller where it is long; then the title is cut,
        never the bars.
        """
        canvas = self.canvas
        _, style = fitted(canvas, row.title + row.bars, style, room / canvas.sheet.unit)
        px = canvas.px(style.size)
        title = shortened(row.title, style.face, px, room - text_width(row.bars, style.face, px))
        end = canvas.write(title, (ROW_LEFT, baseline), style).right
        if row.bars:
            canvas.write(row.bars, (end / canvas.sheet.unit, baseline), style)

    def _draw_mark(self, row: TodayRow, baseline: float, seed: int, *, chosen: bool) -> None:
        """A red stroke: chosen; a tick in ink: done; a ring: ahead, half of it where it is begun; a dash: skipped."""
        canvas, theme = self.canvas, self.canvas.theme
        if chosen:
            draw_pencil(canvas, [(64, baseline - 8), (96, baseline - 10)], 5.5, theme.accent, 8)
        elif row.state is RowState.DONE:
            draw_tick(canvas, (72, baseline - 7), 18, theme.read, 30 + seed)
        elif row.state is RowState.SKIPPED:
            draw_pencil(canvas, [(72, baseline - 9), (88, baseline - 9)], 2, hair_colour(canvas), 30 + seed)
        else:
            draw_ring(canvas, (80, baseline - 9), 17, 2, theme.pencil, 30 + seed)

    def _draw_remark(self) -> None:
        canvas, theme, top = self.canvas, self.canvas.theme, self._remark_top
        title = self.sheet.rows[self.chosen].title if self._advice else self.sheet.remark_title
        if not title:
            return
        draw_pencil(canvas, [(LEFT, top - 34), (ROWS_RIGHT, top - 36)], 1.6, hair_colour(canvas), 18)
        canvas.write(title, (LEFT, top), Style(Face.TITLE, 24, theme.ink))
        baseline = top + 1
        for lines, style in (
            (self._remark_lines, Style(Face.TEXT, 23, theme.ink)),
            (self._consequence_lines, Style(Face.ITALIC, 22, theme.faded)),
        ):
            for line in lines:
                baseline += _REMARK_LINE
                canvas.write(line, (LEFT, baseline), style)

    def draw_right(self) -> pygame.Rect | None:
        """Staff and neck with the ink so far; returns what of it can be clicked."""
        canvas = self.canvas
        canvas.write(say("today.yours"), (INK_LEFT, _TITLE_BASELINE), Style(Face.TITLE, 27, canvas.theme.ink))
        if self.sheet.ink is None:
            return None
        room = StaffRoom(INK_LEFT, self._right, 178, 11)
        return draw_ink_sheet(canvas, self.sheet.ink, room, neck_height=162 + 0.3 * self._spare)

    def above_corner(self, row: TodayRow) -> str:
        """What the corner leads to; its minutes alone where that is more than fits beside the slip."""
        if row.assignment:
            return ""
        said = say("today.above_begin", step=row.title + row.bars, minutes=row.minutes)
        room = _CORNER_ROOM_BESIDE_SLIP + self._right - 1212 if self.sheet.unseen else _CORNER_ROOM
        style = Style(Face.ITALIC, 21, self.canvas.theme.faded)
        return said if self.canvas.width_of(said, style) <= room else row.minutes

    def draw_unseen(self, key: str) -> pygame.Rect | None:
        """The slip that lies face down; returns what can be clicked."""
        if self.sheet.unseen is None:
            return None
        top = self.canvas.sheet.size[1] / self.canvas.sheet.unit - 166
        title, below = self.sheet.unseen
        return draw_face_down(self.canvas, (636, top, 280, 108), title, below, key)
