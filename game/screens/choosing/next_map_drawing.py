"""The picture of the next map: the choices and why, and beside them the notes and the neck of the chosen one."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.ink_staff import StaffRoom
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.kit.note_fill import hair_colour
from game.desk.sheet import Sheet
from game.desk.typography import Face
from game.screens.context import ScreenContext
from game.screens.ink_drawing import InkSheet, draw_ink_sheet
from game.screens.sheet_places import LEFT, SheetPlaces
from game.text.catalogue import say

_HEADING, _BELOW = 92.0, 132.0
_FIRST, _STEP, _TITLE_LEFT, _ROWS_RIGHT = 204.0, 44.0, 116.0, 594.0
_REASONS_BELOW, _BETWEEN_REASONS, _INK_LEFT = 34.0, 4.0, 650.0
_NECK_HEIGHT: Final = 132.0
_SAID, _LONG_SAID = 24.0, 22.0


@dataclass(frozen=True, slots=True)
class NextMapRow:
    """A choice."""

    title: str
    chosen: bool = False


def draw_next_maps(
    context: ScreenContext,
    surface: pygame.Surface,
    *,
    said: str,
    rows: Sequence[NextMapRow],
    reasons: Sequence[str],
    heading: str,
    ink: InkSheet,
) -> None:
    """The heading with what is said below it, the choices, why the chosen one, and its map under a `heading`."""
    canvas = Canvas(surface, context.sheet, context.theme)
    theme, right = canvas.theme, SheetPlaces(canvas.sheet).right
    canvas.write(say("next_map.title"), (LEFT, _HEADING), Style(Face.TITLE, 44, theme.ink))
    _draw_said(canvas, said, right - LEFT)
    for number, row in enumerate(rows):
        _draw_row(canvas, row, _FIRST + number * _STEP)
    baseline = _FIRST + len(rows) * _STEP + _REASONS_BELOW
    draw_pencil(canvas, [(LEFT, baseline - 34), (_ROWS_RIGHT, baseline - 36)], 1.6, hair_colour(canvas), 18)
    for reason in reasons:
        text = Style(Face.TEXT, 22, theme.ink)
        baseline = draw_text_lines(canvas, reason, (LEFT, baseline), text, _ROWS_RIGHT - LEFT) + _BETWEEN_REASONS
    words, style = fitted(canvas, heading, Style(Face.TITLE, 27, theme.ink), right - _INK_LEFT)
    canvas.write(words, (_INK_LEFT, _FIRST), style)
    draw_ink_sheet(canvas, ink, StaffRoom(_INK_LEFT, right, _FIRST + 56, 11), neck_height=_NECK_HEIGHT)


def _draw_said(canvas: Canvas, said: str, width: float) -> None:
    """In one line, a little smaller if need be, else in two."""
    style = Style(Face.ITALIC, _SAID, canvas.theme.faded)
    text, smaller = fitted(canvas, said, style, width)
    if text == said:
        canvas.write(text, (LEFT, _BELOW), smaller)
    else:
        draw_text_lines(canvas, said, (LEFT, _BELOW - 4), replace(style, size=_LONG_SAID), width)


def row_at(sheet: Sheet, at: tuple[int, int], count: int) -> int | None:
    """The choice at these pixels; None beside them."""
    return next((row for row in range(count) if row_rect(sheet, row).collidepoint(at)), None)


def row_rect(sheet: Sheet, row: int) -> pygame.Rect:
    """The pixels of a choice."""
    left, top = sheet.px(LEFT - 10), sheet.px(_FIRST - 30 + row * _STEP)
    return pygame.Rect(left, top, sheet.px(_ROWS_RIGHT + 8) - left, sheet.px(_STEP))


def _draw_row(canvas: Canvas, row: NextMapRow, y: float) -> None:
    theme = canvas.theme
    if row.chosen:
        draw_pencil(canvas, [(LEFT - 4, y - 8), (LEFT + 14, y - 10), (LEFT + 32, y - 9)], 5.5, theme.accent, 31)
    style = Style(Face.TITLE if row.chosen else Face.TEXT, 27, theme.ink)
    title, style = fitted(canvas, row.title, style, _ROWS_RIGHT - _TITLE_LEFT)
    canvas.write(title, (_TITLE_LEFT, y), style)
