"""A door: a sheet of its own with a small drawing, that leads somewhere when it is clicked."""

from dataclasses import dataclass
from typing import Final, Protocol

import pygame

from game.desk.kit.boxed_key import draw_key, key_width
from game.desk.kit.by_pencil import draw_pencil, draw_tick
from game.desk.kit.canvas import Canvas, Point, Style, blend
from game.desk.kit.ground import draw_sheet
from game.desk.theme import NIGHT
from game.desk.typography import Face, shortened, wrapped

DOOR_SIZE: Final = (412.0, 108.0)
"""Width and height, in units."""

_WORDS_LEFT, _MARGIN = 134.0, 16.0
_TITLE, _TEXT = 23.0, 21.0
_MOST_LINES: Final = 3
# The baseline of the title, of the first line below it, and from line to line, by whether there is a third line.
_ROOMY, _TIGHT = (36.0, 65.0, 26.0), (29.0, 53.0, 23.0)


class Sketch(Protocol):
    """Draws a small picture, its upper left corner at a place."""

    def __call__(self, canvas: Canvas, at: Point, /) -> None:
        """Draw it."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """What stands on a door: its title and three lines at most. `chosen` has a red stroke and the key that opens it,
    `opened` a tick in ink.
    """

    title: str
    text: str
    sketch: Sketch
    key: str = ""
    chosen: bool = False
    opened: bool = False


def draw_door(canvas: Canvas, door: Door, at: Point) -> pygame.Rect:
    """The door, its upper left corner `at`; returns what can be clicked."""
    (x, y), (width, height), theme = at, DOOR_SIZE, canvas.theme
    rect = canvas.rect(x, y, width, height)
    paper = blend(theme.paper, theme.edge, 0.35) if theme is NIGHT else blend(theme.paper, (255, 255, 255), 0.5)
    draw_sheet(canvas, rect, paper, blur=4)
    door.sketch(canvas, (x + 12, y + 24))
    left, right = x + _WORDS_LEFT, x + width - _MARGIN
    box = key_width(canvas, door.key) if door.key and door.chosen else 0.0
    title_right = right - 30 if door.opened else right - box - 6
    title = shortened(door.title, Face.TITLE, canvas.px(_TITLE), canvas.px(title_right - left))
    lines = wrapped(door.text, Face.TEXT, canvas.px(_TEXT), canvas.px(right - left))[:_MOST_LINES]
    title_at, text_at, line_height = _TIGHT if len(lines) == _MOST_LINES else _ROOMY
    canvas.write(title, (left, y + title_at), Style(Face.TITLE, _TITLE, theme.ink))
    for number, line in enumerate(lines):
        canvas.write(line, (left, y + text_at + line_height * number), Style(Face.TEXT, _TEXT, theme.faded))
    if door.opened:
        draw_tick(canvas, (right - 22, y + 34), 22, theme.read, 7)
    if door.chosen:
        draw_pencil(canvas, [(x - 26, y + height / 2 + 1), (x - 4, y + height / 2 - 1)], 5.5, theme.accent, 8)
    if box and not door.opened:
        draw_key(canvas, door.key, (right - box, y + 28), theme.accent)
    return rect
