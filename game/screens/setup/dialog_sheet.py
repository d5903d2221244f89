"""The sheets behind the settings: paper without tabs, a title, rows or running text, keys and corner. In units."""

from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.ground import READING_TOP, draw_ground
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.typography import Face
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint
from game.screens.shown_keys import draw_keys
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say

LEFT: Final = 70.0
ROW_LEFT: Final = 112.0
_RIGHT_MARGIN, _TITLE_BASELINE, _BELOW_BASELINE = 68.0, 92.0, 130.0
_TO_CORNER: Final = 24.0
FOOT_HEIGHT: Final = 128.0
"""From the lower edge of the window up to where a sheet ends above its keys and its corner."""


def lay_dialog(context: ScreenContext, surface: pygame.Surface, title: str, below: str = "") -> tuple[Canvas, float]:
    """Begin a picture with the empty sheet, its title and a few quiet words below; returns where to draw on, and the
    baseline of the line after them.
    """
    context.window.begin_picture()
    canvas = Canvas(surface, context.sheet, context.theme)
    draw_ground(canvas, READING_TOP)
    text, style = fitted(canvas, title, Style(Face.TITLE, 42, canvas.theme.ink), width_of(canvas))
    canvas.write(text, (LEFT, _TITLE_BASELINE), style)
    quiet = Style(Face.ITALIC, 22, canvas.theme.faded)
    end = draw_text_lines(canvas, below, (LEFT, _BELOW_BASELINE), quiet, width_of(canvas)) if below else _BELOW_BASELINE
    return canvas, end


def width_of(canvas: Canvas) -> float:
    """How wide the sheet is inside its margins."""
    return canvas.sheet.size[0] / canvas.sheet.unit - LEFT - _RIGHT_MARGIN


def bottom_of(canvas: Canvas) -> float:
    """Where a sheet ends above its keys and its corner."""
    return canvas.sheet.size[1] / canvas.sheet.unit - FOOT_HEIGHT


def draw_row(
    canvas: Canvas, baseline: float, words: str, *, below: str = "", right: str = "", chosen: bool = False
) -> pygame.Rect:
    """A row to be chosen, a quieter line below it, and a quiet word at its right end; returns the pixels it takes."""
    theme, width = canvas.theme, width_of(canvas) - (ROW_LEFT - LEFT)
    if chosen:
        draw_pencil(canvas, [(LEFT, baseline - 9), (LEFT + 28, baseline - 11)], 5.5, theme.accent, 8)
    quiet = Style(Face.ITALIC, 21, theme.faded)
    room = width
    if right:
        text, style = fitted(canvas, right, quiet, width / 3)
        canvas.write(text, (LEFT + width_of(canvas), baseline), style, Align.RIGHT)
        room = width - canvas.width_of(text, style) - 24
    text, style = fitted(canvas, words, Style(Face.TITLE if chosen else Face.TEXT, 26, theme.ink), room)
    canvas.write(text, (ROW_LEFT, baseline), style)
    if below:
        text, style = fitted(canvas, below, quiet, width)
        canvas.write(text, (ROW_LEFT, baseline + 30), style)
    return canvas.rect(LEFT, baseline - 30, width_of(canvas), 70 if below else 40)


def draw_running(canvas: Canvas, text: str, baseline: float, *, quiet: bool = False, red: bool = False) -> float:
    """Running text over the width of the sheet; returns the baseline of the line after it."""
    theme = canvas.theme
    style = Style(Face.ITALIC, 22, theme.faded) if quiet else Style(Face.TEXT, 26, theme.accent if red else theme.ink)
    return draw_text_lines(canvas, text, (LEFT, baseline), style, width_of(canvas))


def draw_foot(context: ScreenContext, surface: pygame.Surface, keys: tuple[KeyHint, ...], next_words: str = "") -> None:
    """The corner with what Enter does, if it does anything, and the keys beside it."""
    right = None
    if next_words:
        corner = draw_next(context, surface, _capital(next_words))
        right = corner.left / context.sheet.unit - _TO_CORNER
    draw_keys(context, surface, keys, most_rows=2, right=right)


def back_words() -> str:
    """What the corner says where it only leads back."""
    return say("corner.back")


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
