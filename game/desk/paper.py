"""The paper on the desk, and text set on it."""

import pygame

from game.desk import pencil
from game.desk.sheet import Sheet
from game.desk.theme import Colour, Theme
from game.desk.type import Face, broken, fitted, typeset, width_of


def lay_paper(surface: pygame.Surface, sheet: Sheet, theme: Theme) -> None:
    """Fill the window: desk, a quiet edge, paper."""
    surface.fill(theme.desk)
    paper = sheet.paper
    surface.fill(theme.edge, paper.move(sheet.px(3), sheet.px(4)))
    surface.fill(theme.paper, paper)


def set_line(
    surface: pygame.Surface, text: str, at: tuple[int, int], face: Face, px: int, colour: Colour
) -> pygame.Rect:
    """A line of text, its top left corner `at`; returns the room it took."""
    return surface.blit(typeset(text, face, px, colour), at)


def set_line_ending(
    surface: pygame.Surface, text: str, at: tuple[int, int], face: Face, px: int, colour: Colour
) -> pygame.Rect:
    """A line of text, its top right corner `at`."""
    return set_line(surface, text, (at[0] - width_of(text, face, px), at[1]), face, px, colour)


def set_block(
    surface: pygame.Surface, text: str, room: pygame.Rect, face: Face, px: int, colour: Colour
) -> pygame.Rect:
    """Running text broken to the width of `room`, from its top; returns the room it took."""
    y = room.top
    for text_line in broken(text, face, px, room.width):
        set_line(surface, text_line, (room.left, y), face, px, colour)
        y += round(px * 1.25)
    return pygame.Rect(room.left, room.top, room.width, y - room.top)


def set_heading(
    surface: pygame.Surface, sheet: Sheet, theme: Theme, title: str, *, below: str = "", beside: str = ""
) -> None:
    """The title at the top of the paper, cut where it is too long, a line in italics below it, and a word at the
    right.
    """
    area = sheet.text_area
    room = area.width - (width_of(beside, Face.TEXT, sheet.text_px) + sheet.px(40) if beside else 0)
    shown = fitted(title, Face.TITLE, sheet.title_px, room)
    set_line(surface, shown, area.topleft, Face.TITLE, sheet.title_px, theme.ink)
    if beside:
        at = (area.right, area.top + sheet.px(10))
        set_line_ending(surface, beside, at, Face.TEXT, sheet.text_px, theme.ink)
    if below:
        at = (area.left, area.top + sheet.px(52))
        set_line(surface, below, at, Face.ITALIC, sheet.small_px, theme.faded)


def mark_chosen(surface: pygame.Surface, sheet: Sheet, theme: Theme, y: float) -> None:
    """A short pencil stroke at the left edge, half-way up a line: this one is chosen."""
    stroke = pencil.line(sheet.px(20), max(1.5, sheet.px(3)), theme.accent, seed=8)
    surface.blit(stroke, stroke.get_rect(midleft=(sheet.text_area.left, y)))


def set_keys(
    surface: pygame.Surface, keys: tuple[tuple[str, str], ...], sheet: Sheet, theme: Theme, *, row: int = 0
) -> int:
    """The line at the foot of the paper that tells the keys: each key in figures, what it does in italics. Rows count
    upwards. Returns how many there was room for: those after them are left out.
    """
    x, y = sheet.text_area.left, sheet.paper.bottom - sheet.px(40 + 28 * row)
    for number, (key, meaning) in enumerate(keys):
        width = width_of(key, Face.TITLE, sheet.small_px) + width_of(meaning, Face.ITALIC, sheet.small_px)
        if x + width + sheet.px(6) > sheet.text_area.right:
            return number
        x = set_line(surface, key, (x, y), Face.TITLE, sheet.small_px, theme.faded).right + sheet.px(6)
        x = set_line(surface, meaning, (x, y), Face.ITALIC, sheet.small_px, theme.faded).right + sheet.px(22)
    return len(keys)
