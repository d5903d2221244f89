"""The three places of the programme as they are drawn: number, title, small pages."""

from collections.abc import Sequence
from dataclasses import dataclass

import pygame

from game.desk.kit.by_pencil import draw_pencil, draw_tick
from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.small_page import PageMark, draw_small_page
from game.desk.sheet import Sheet
from game.desk.typography import Face
from game.screens.context import ScreenContext
from game.screens.sheet_places import LEFT, SheetPlaces
from game.text.catalogue import say

_HEADING, _BELOW = 92.0, 132.0
_FIRST, _STEP = 212.0, 128.0
_TITLE_LEFT, _PAGES_BELOW, _PAGE_STEP = 168.0, 16.0, 27.0
_NUMERALS = ("I", "II", "III")


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammeRow:
    """A place, from 0. `title` is empty where it is free; `pages` are the marks of its pages; `played` today, whole."""

    number: int
    title: str
    pages: tuple[PageMark, ...] = ()
    played: bool = False
    chosen: bool = False


def draw_programme(context: ScreenContext, surface: pygame.Surface, said: str, rows: Sequence[ProgrammeRow]) -> None:
    """The heading, what is said below it, and the places."""
    canvas = Canvas(surface, context.sheet, context.theme)
    right = SheetPlaces(canvas.sheet).right
    canvas.write(say("programme.title"), (LEFT, _HEADING), Style(Face.TITLE, 44, canvas.theme.ink))
    words, style = fitted(canvas, said, Style(Face.ITALIC, 24, canvas.theme.faded), right - LEFT)
    canvas.write(words, (LEFT, _BELOW), style)
    for row in rows:
        _draw_row(canvas, row, right)


def row_at(sheet: Sheet, at: tuple[int, int]) -> int | None:
    """The place at these pixels, from 0; None beside them."""
    x, y = at[0] / sheet.unit, at[1] / sheet.unit
    row = int((y - _FIRST + 40) // _STEP)
    return row if 0 <= row < len(_NUMERALS) and x >= LEFT - 10 and y - _FIRST + 40 - row * _STEP < _STEP - 20 else None


def row_rect(sheet: Sheet, row: int) -> pygame.Rect:
    """The pixels of a place."""
    left, top = sheet.px(LEFT - 10), sheet.px(_FIRST - 40 + row * _STEP)
    return pygame.Rect(left, top, sheet.size[0] - sheet.px(68) - left, sheet.px(_STEP - 20))


def _draw_row(canvas: Canvas, row: ProgrammeRow, right: float) -> None:
    theme, y = canvas.theme, _FIRST + _STEP * row.number
    canvas.write(_NUMERALS[row.number], (LEFT + 44, y), Style(Face.TITLE, 30, theme.faded))
    if row.chosen:
        draw_pencil(canvas, [(LEFT - 4, y - 9), (LEFT + 14, y - 11), (LEFT + 34, y - 10)], 6.0, theme.accent, 31)
    if not row.title:
        line = [(_TITLE_LEFT, y + 4), (_TITLE_LEFT + 420, y + 3)]
        draw_pencil(canvas, line, 1.8, theme.pencil, 12 + row.number, dashes=(9.0, 7.0))
        return
    face = Face.TITLE if row.chosen else Face.TEXT
    title, style = fitted(canvas, row.title, Style(face, 32, theme.ink), right - _TITLE_LEFT - 60)
    used = canvas.write(title, (_TITLE_LEFT, y), style)
    if row.played:
        draw_tick(canvas, (used.right / canvas.sheet.unit + 16, y - 4), 26, theme.read, 5)
    _draw_pages(canvas, row, y + _PAGES_BELOW, right)


def _draw_pages(canvas: Canvas, row: ProgrammeRow, top: float, right: float) -> None:
    """As many pages as have room, and how many of all are signed."""
    room = int((right - _TITLE_LEFT - 220) // _PAGE_STEP)
    shown = row.pages[:room]
    for number, mark in enumerate(shown):
        draw_small_page(canvas, mark, (_TITLE_LEFT + _PAGE_STEP * number, top), number % 7)
    signed = sum(mark is PageMark.SIGNED_OFF for mark in row.pages)
    words = say("programme.signed", signed=signed, count=len(row.pages))
    at = _TITLE_LEFT + _PAGE_STEP * len(shown) + 12, top + 21
    canvas.write(words, at, Style(Face.ITALIC, 22, canvas.theme.faded))
