"""The paper on the desk, and text set on it."""

import pygame

from game.desk import pencil
from game.desk.kit.canvas import Canvas
from game.desk.kit.ground import READING_TOP, draw_ground
from game.desk.sheet import Sheet
from game.desk.theme import Colour, Theme
from game.desk.typography import Face, rendered, shortened, text_width, wrapped


def draw_paper(surface: pygame.Surface, sheet: Sheet, theme: Theme) -> None:
    """Fill the window: the desk, and the paper on it as it lies where music is read."""
    draw_ground(Canvas(surface, sheet, theme), READING_TOP)


def draw_text(
    surface: pygame.Surface, text: str, at: tuple[int, int], face: Face, px: int, colour: Colour
) -> pygame.Rect:
    """A line of text, its top left corner `at`; returns the room it took."""
    return surface.blit(rendered(text, face, px, colour), at)


def draw_text_right(
    surface: pygame.Surface, text: str, at: tuple[int, int], face: Face, px: int, colour: Colour
) -> pygame.Rect:
    """A line of text, its top right corner `at`."""
    return draw_text(surface, text, (at[0] - text_width(text, face, px), at[1]), face, px, colour)


def draw_paragraph(
    surface: pygame.Surface, text: str, room: pygame.Rect, face: Face, px: int, colour: Colour
) -> pygame.Rect:
    """Running text broken to the width of `room`, from its top; returns the room it took."""
    y = room.top
    for text_line in wrapped(text, face, px, room.width):
        draw_text(surface, text_line, (room.left, y), face, px, colour)
        y += round(px * 1.25)
    return pygame.Rect(room.left, room.top, room.width, y - room.top)


def draw_heading(
    surface: pygame.Surface,
    sheet: Sheet,
    theme: Theme,
    title: str,
    *,
    below: str = "",
    beside: str = "",
) -> None:
    """The title at the top of the paper, cut where it is too long, a line in italics below it, and a word at the
    right.
    """
    area = sheet.text_area
    beside_px = text_width(beside, Face.TEXT, sheet.text_px) + sheet.px(40) if beside else 0
    shown = shortened(title, Face.TITLE, sheet.title_px, area.width - beside_px)
    draw_text(surface, shown, area.topleft, Face.TITLE, sheet.title_px, theme.ink)
    if beside:
        at = (area.right, area.top + sheet.px(10))
        draw_text_right(surface, beside, at, Face.TEXT, sheet.text_px, theme.ink)
    if below:
        at = (area.left, area.top + sheet.px(52))
        draw_text(surface, below, at, Face.ITALIC, sheet.small_px, theme.faded)


def draw_choice_mark(surface: pygame.Surface, sheet: Sheet, theme: Theme, y: float) -> None:
    """A short pencil stroke at the left edge, half-way up a line: this one is chosen."""
    stroke = pencil.line(sheet.px(20), max(1.5, sheet.px(3)), theme.accent, seed=8)
    surface.blit(stroke, stroke.get_rect(midleft=(sheet.text_area.left, y)))
