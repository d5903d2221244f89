"""The picture of the settings: three groups at the left, the rows of one of them at the right. In units."""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.boxed_key import draw_key
from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style, blend
from game.desk.kit.fitted_line import fitted
from game.desk.kit.ground import draw_sheet
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.part_in_view import Followed
from game.desk.theme import NIGHT, Colour
from game.desk.typography import Face
from game.screens.rows_in_sight import first_in_sight

ROW_HEIGHT: Final = 84.0
_FIRST_TOP, _LEFT, _VALUE_RIGHT, _RIGHT = 84.0, 446.0, 1176.0, 1206.0
_CARD_LEFT, _CARD_TOP, _CARD_STEP, _CARD_SIZE = 70.0, 160.0, 112.0, (300.0, 96.0)
_NAME, _WHY, _TITLE, _GROUP = 26.0, 22.0, 42.0, 28.0
_ABOVE_CORNER: Final = 106.0
"""From the lower edge of the window up to where rows end."""

_STEP_REACH: Final = 40.0
"""How far from a value a click still changes it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowText:
    """What stands on a row: what is settled, how, and why; `leads` where it is a way on, and not changed here."""

    name: str
    value: str
    why: str
    leads: bool = False


@dataclass(frozen=True, slots=True)
class SettingsSheet:
    """Where things stand: `count` rows of the group in sight, `chosen` among them, from 0."""

    canvas: Canvas
    count: int
    chosen: int

    @property
    def rows_shown(self) -> int:
        """How many rows have room: six in a window of 720 units, more in a higher one."""
        height = self.canvas.sheet.size[1] / self.canvas.sheet.unit
        return max(1, int((height - _ABOVE_CORNER - _FIRST_TOP) / ROW_HEIGHT))

    @property
    def first_shown(self) -> int:
        """The first row in sight."""
        return first_in_sight(chosen=self.chosen, shown=self.rows_shown, count=self.count)

    @property
    def in_sight(self) -> range:
        """The rows in sight."""
        return range(self.first_shown, min(self.count, self.first_shown + self.rows_shown))

    def row_rect(self, row: int) -> pygame.Rect:
        """The pixels of a row in sight; neighbours touch and do not overlap."""
        top = _FIRST_TOP + (row - self.first_shown) * ROW_HEIGHT
        return self.canvas.rect(_LEFT - 46, top, _RIGHT - _LEFT + 46, ROW_HEIGHT)

    def followed(self, text: RowText, *, changes: bool) -> Followed:
        """What is to be seen of the chosen row: its name, or its value where that `changes`."""
        row = self.row_rect(self.chosen)
        left = self.value_left(text) - _STEP_REACH if changes else _LEFT - 46
        name = self.canvas.width_of(text.name, Style(Face.TITLE, _NAME, self.canvas.theme.ink)) + 60
        core = self.canvas.rect(left, 0, _RIGHT - left if changes else name, 1)
        return Followed(row, pygame.Rect(core.left, row.top, core.width, row.height))

    def group_rect(self, group: int) -> pygame.Rect:
        """The pixels of the card of a group."""
        return self.canvas.rect(_CARD_LEFT, _CARD_TOP + group * _CARD_STEP, *_CARD_SIZE)

    def value_left(self, text: RowText) -> float:
        """Where the value of a row begins, in units."""
        shown, style = self._value(text, self.canvas.theme.ink)
        return _VALUE_RIGHT - self.canvas.width_of(shown, style)

    def step_at(self, text: RowText, x_px: int) -> int:
        """What a click on a row does to its value, by how far to the right it is: -1 left of the value, 1 on it or
        right of it, 0 for a click that only chooses the row.
        """
        x, left = x_px / self.canvas.sheet.unit, self.value_left(text)
        if x < left - _STEP_REACH or x > _RIGHT + _STEP_REACH:
            return 0
        return -1 if x < left - 6 and not text.leads else 1

    def draw_title(self, title: str) -> None:
        """The title of the sheet, in the width of the cards."""
        style = Style(Face.TITLE, _TITLE, self.canvas.theme.ink)
        shown, style = fitted(self.canvas, title, style, _LEFT - _CARD_LEFT - 76)
        self.canvas.write(shown, (_CARD_LEFT, 122), style)

    def draw_group(self, group: int, words: tuple[str, str], *, chosen: bool, key: str = "") -> None:
        """The card of a group: its name and what is in it; with the key that leads to it, if one does."""
        canvas, theme = self.canvas, self.canvas.theme
        top = _CARD_TOP + group * _CARD_STEP
        if chosen:
            draw_sheet(canvas, self.group_rect(group), _fresh(canvas), blur=4)
        name = Style(Face.TITLE if chosen else Face.TEXT, _GROUP, theme.ink if chosen else theme.faded)
        canvas.write(words[0], (_CARD_LEFT + 22, top + 42), name)
        holds, style = fitted(canvas, words[1], Style(Face.ITALIC, _WHY, theme.faded), _CARD_SIZE[0] - 34)
        canvas.write(holds, (_CARD_LEFT + 22, top + 72), style)
        if key:
            draw_key(canvas, key, (_CARD_LEFT + _CARD_SIZE[0] - 62, top + 34))

    def draw_advice(self, words: str) -> None:
        """A few quiet words below the cards."""
        at = (_CARD_LEFT, _CARD_TOP + 3 * _CARD_STEP + 32)
        style = Style(Face.ITALIC, 20, self.canvas.theme.faded)
        draw_text_lines(self.canvas, words, at, style, _CARD_SIZE[0] + 20)

    def draw_row(self, row: int, text: RowText) -> None:
        """A row: what is settled, its value between two arrows, and the line below that says why."""
        canvas, theme, chosen = self.canvas, self.canvas.theme, row == self.chosen
        baseline = _FIRST_TOP + (row - self.first_shown) * ROW_HEIGHT + 34
        if chosen:
            draw_pencil(canvas, [(_LEFT - 42, baseline - 9), (_LEFT - 14, baseline - 11)], 5.5, theme.accent, 8)
        canvas.write(text.name, (_LEFT, baseline), Style(Face.TITLE if chosen else Face.TEXT, _NAME, theme.ink))
        self._draw_value(text, baseline, theme.accent if chosen else theme.ink)
        why, style = fitted(canvas, text.why, Style(Face.ITALIC, _WHY, theme.faded), _RIGHT - _LEFT)
        canvas.write(why, (_LEFT, baseline + 30), style)
        if row != self.in_sight[-1]:
            rule = blend(theme.paper, theme.pencil, 0.4)
            draw_pencil(canvas, [(_LEFT, baseline + 48), (_RIGHT, baseline + 47)], 1.3, rule, 20 + row % 7)

    def _draw_value(self, text: RowText, baseline: float, colour: Colour) -> None:
        shown, style = self._value(text, colour)
        self.canvas.write(shown, (_VALUE_RIGHT, baseline), style, Align.RIGHT)
        arrow = colour if colour == self.canvas.theme.accent else self.canvas.theme.pencil
        left = _VALUE_RIGHT - self.canvas.width_of(shown, style)
        for way, x in ((-1, left - 22), (1, _VALUE_RIGHT + 20)):
            if way > 0 or not text.leads:
                tip = [(x - 5 * way, baseline - 18), (x + 5 * way, baseline - 9), (x - 5 * way, baseline)]
                draw_pencil(self.canvas, tip, 2.8, arrow, 3 + way)

    def _value(self, text: RowText, colour: Colour) -> tuple[str, Style]:
        """The value as it is set beside the name, which stays whole."""
        name = self.canvas.width_of(text.name, Style(Face.TITLE, _NAME, colour))
        return fitted(self.canvas, text.value, Style(Face.TITLE, _NAME, colour), _VALUE_RIGHT - _LEFT - name - 52)

    def draw_more(self, above: str, below: str) -> None:
        """How many rows there are above and below those in sight, for each of which there are words."""
        style = Style(Face.ITALIC, 20, self.canvas.theme.faded)
        for words, rect in zip((above, below), self.more_rects, strict=True):
            x, y = rect.left / self.canvas.sheet.unit, rect.top / self.canvas.sheet.unit
            self.canvas.write(words, (x, y + 17), style)

    @property
    def more_rects(self) -> tuple[pygame.Rect, pygame.Rect]:
        """Where a click brings rows above, and rows below, into sight."""
        top, width = _FIRST_TOP + self.rows_shown * ROW_HEIGHT - 1, 224.0
        return self.canvas.rect(_LEFT, top, width, 21), self.canvas.rect(_LEFT + width + 6, top, width, 21)


def _fresh(canvas: Canvas) -> Colour:
    """Paper that lies on top."""
    return blend(canvas.theme.paper, (255, 255, 255), 0.06 if canvas.theme is NIGHT else 0.6)
