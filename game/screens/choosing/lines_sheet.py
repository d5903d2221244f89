"""The picture of the folder of unseen lines: one lies face down, beside it the last ones that were read. In units."""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style, blend
from game.desk.kit.face_down import draw_face_down
from game.desk.kit.fitted_line import fitted
from game.desk.kit.inked import draw_ink
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.typography import Face

_LEFT, _COLUMN, _LIST_LEFT, _RIGHT_MARGIN = 70.0, 530.0, 670.0, 68.0
_SLIP: Final = (76.0, 172.0, 470.0, 150.0)
_ROWS_TOP: Final = (404.0, 492.0)
_LIST_TOP, _LIST_STEP = 206.0, 46.0
_BAR_WIDTH, _BAR_RIGHT = 190.0, 126.0
_ABOVE_CORNER: Final = 118.0
_REACH: Final = 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceText:
    """A row that is changed by a click left or right of its value, and the line below it."""

    name: str
    value: str
    below: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadText:
    """A line that was read: what it was, how many notes were right in words, and their share, 0 to 1."""

    name: str
    right: str
    share: float


@dataclass(frozen=True, slots=True)
class LinesSheet:
    """Where things stand."""

    canvas: Canvas

    @property
    def list_rows(self) -> int:
        """How many of the last lines have room."""
        height = self.canvas.sheet.size[1] / self.canvas.sheet.unit
        return int((height - _ABOVE_CORNER - _LIST_TOP) / _LIST_STEP) + 1

    @property
    def _right(self) -> float:
        return self.canvas.sheet.size[0] / self.canvas.sheet.unit - _RIGHT_MARGIN

    def step_at(self, row: int, text: ChoiceText, at: tuple[int, int]) -> int:
        """What a click does to a row: -1 left of its value, 1 on it or right of it, 0 elsewhere."""
        x, y = at[0] / self.canvas.sheet.unit, at[1] / self.canvas.sheet.unit
        left = self._value_left(text)
        if not _ROWS_TOP[row] - 34 <= y < _ROWS_TOP[row] + 40 or not left - _REACH <= x <= _LEFT + _COLUMN + 12:
            return 0
        return -1 if x < left - 6 else 1

    def row_rect(self, row: int) -> pygame.Rect:
        """The pixels of a row and the line below it."""
        return self.canvas.rect(_LEFT, _ROWS_TOP[row] - 34, _COLUMN + 12, 74)

    def draw_heading(self, title: str, below: str) -> None:
        """The title, and a few words after it."""
        theme = self.canvas.theme
        style = Style(Face.TITLE, 42, theme.ink)
        self.canvas.write(title, (_LEFT, 122), style)
        left = _LEFT + self.canvas.width_of(title, style) + 20
        text, style = fitted(self.canvas, below, Style(Face.ITALIC, 24, theme.faded), self._right - left)
        self.canvas.write(text, (left, 122), style)

    def draw_slip(self, title: str, below: str) -> pygame.Rect:
        """The next line, face down; returns what can be clicked."""
        return draw_face_down(self.canvas, _SLIP, title, below)

    def draw_waiting(self, words: str) -> None:
        """What there is to say of how many lie there."""
        style = Style(Face.ITALIC, 22, self.canvas.theme.faded)
        draw_text_lines(self.canvas, words, (_LEFT, 560), style, _COLUMN)

    def draw_choice(self, row: int, text: ChoiceText) -> None:
        """A row with its value between two arrows."""
        canvas, theme, baseline = self.canvas, self.canvas.theme, _ROWS_TOP[row]
        canvas.write(text.name, (_LEFT, baseline), Style(Face.TEXT, 26, theme.ink))
        shown, style = self._value(text)
        right = _LEFT + _COLUMN - 30
        canvas.write(shown, (right, baseline), style, Align.RIGHT)
        for way, x in ((-1, self._value_left(text) - 22), (1, right + 20)):
            tip = [(x - 5 * way, baseline - 18), (x + 5 * way, baseline - 9), (x - 5 * way, baseline)]
            draw_pencil(canvas, tip, 2.8, theme.pencil, 3 + way)
        below, style = fitted(canvas, text.below, Style(Face.ITALIC, 21, theme.faded), _COLUMN)
        canvas.write(below, (_LEFT, baseline + 29), style)

    def _value(self, text: ChoiceText) -> tuple[str, Style]:
        ink = self.canvas.theme.ink
        name = self.canvas.width_of(text.name, Style(Face.TEXT, 26, ink))
        return fitted(self.canvas, text.value, Style(Face.TITLE, 26, ink), _COLUMN - 30 - name - 50)

    def _value_left(self, text: ChoiceText) -> float:
        shown, style = self._value(text)
        return _LEFT + _COLUMN - 30 - self.canvas.width_of(shown, style)

    def draw_read(self, title: str, lines: tuple[ReadText, ...], empty: str) -> None:
        """The last lines, the newest first: how much of each was right is how far its stroke is ink."""
        theme, canvas = self.canvas.theme, self.canvas
        canvas.write(title, (_LIST_LEFT, _LIST_TOP - 44), Style(Face.TITLE, 26, theme.ink))
        if not lines:
            style = Style(Face.ITALIC, 22, theme.faded)
            draw_text_lines(canvas, empty, (_LIST_LEFT, _LIST_TOP), style, self._right - _LIST_LEFT)
        for number, line in enumerate(lines[: self.list_rows]):
            self._draw_line(_LIST_TOP + number * _LIST_STEP, line, seed=number)

    def _draw_line(self, baseline: float, line: ReadText, seed: int) -> None:
        theme, canvas = self.canvas.theme, self.canvas
        bar_left = self._right - _BAR_RIGHT - _BAR_WIDTH
        name, style = fitted(canvas, line.name, Style(Face.TEXT, 23, theme.ink), bar_left - _LIST_LEFT - 20)
        canvas.write(name, (_LIST_LEFT, baseline), style)
        middle = baseline - 7
        rule = blend(theme.paper, theme.pencil, 0.6)
        draw_pencil(canvas, [(bar_left, middle), (bar_left + _BAR_WIDTH, middle)], 1.5, rule, 30 + seed)
        if line.share > 0:
            draw_ink(canvas, [(bar_left, middle), (bar_left + _BAR_WIDTH * line.share, middle)], 7, theme.read)
        right, style = fitted(canvas, line.right, Style(Face.FIGURES, 23, theme.ink), _BAR_RIGHT - 18)
        canvas.write(right, (self._right, baseline), style, Align.RIGHT)
