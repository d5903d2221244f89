"""The keys at the foot of a screen, drawn in their boxes, and what a click on them is."""

from dataclasses import replace

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.corner import draw_corner
from game.desk.kit.key_rows import ROW_HEIGHT, Keyed, KeyRoom, draw_key_rows, key_rows
from game.desk.paper import draw_paper
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints

LOWEST_ROW = 49.0
"""From the lower edge of the paper up to the middle of the lowest row of keys, in units."""


def lay_paper(context: ScreenContext, surface: pygame.Surface) -> None:
    """Begin a picture with the empty sheet on the desk: nothing on it can be clicked yet."""
    context.window.begin_picture()
    draw_paper(surface, context.sheet, context.theme)


def draw_keys(
    context: ScreenContext,
    surface: pygame.Surface,
    keys: tuple[KeyHint, ...],
    *,
    row: float = 0,
    most_rows: int = 1,
    left: float | None = None,
    right: float | None = None,
) -> int:
    """Draw keys at the foot and let them be clicked, in as many rows as they need up to `most_rows`, the lowest in
    `row` counted upwards. They reach from margin to margin, or from `left` to `right` in units. Returns how many there
    was room for: those after them are left out, and stand on the sheet of all keys.
    """
    canvas, area, unit = Canvas(surface, context.sheet, context.theme), context.sheet.text_area, context.sheet.unit
    middle = context.sheet.paper.bottom / unit - LOWEST_ROW - ROW_HEIGHT * row
    room = KeyRoom(left or area.left / unit, right or area.right / unit, middle)
    keyed = [Keyed(key.labels, key.meaning, boxed=bool(key.presses)) for key in keys]
    context.window.tell_keys(keys)
    shown = sum(len(one) for one in key_rows(canvas, keyed, room)[:most_rows])
    for key, boxes in zip(keys, draw_key_rows(canvas, keyed[:shown], room), strict=False):
        for box, press in zip(boxes, key.presses, strict=False):
            context.window.let_click(box, press)
    return shown


def row_at(up: float) -> float:
    """The row whose middle lies so many units above the lower edge of the paper, for `draw_keys`."""
    return (up - LOWEST_ROW) / ROW_HEIGHT


def foot_top(
    context: ScreenContext, surface: pygame.Surface, keys: tuple[KeyHint, ...], *, most_rows: int, right: float
) -> float:
    """Where the rows of keys that `draw_keys` draws begin, in units from the upper edge of the window."""
    canvas, area, unit = Canvas(surface, context.sheet, context.theme), context.sheet.text_area, context.sheet.unit
    keyed = [Keyed(key.labels, key.meaning, boxed=bool(key.presses)) for key in keys]
    rows = min(most_rows, len(key_rows(canvas, keyed, KeyRoom(area.left / unit, right, 0.0))))
    return context.sheet.paper.bottom / unit - LOWEST_ROW - ROW_HEIGHT * (rows - 0.5)


def draw_next(
    context: ScreenContext, surface: pygame.Surface, words: str, *, key: str = "keys.enter", above: str = ""
) -> float:
    """Draw the turned-up corner with the next thing, and let it be clicked. Returns where it begins, in units."""
    (hint,) = key_hints((key, key))
    corner = draw_corner(Canvas(surface, context.sheet, context.theme), words, hint.labels[0], above)
    context.window.turn_up_corner(corner, replace(hint, meaning=words))
    return corner.left / context.sheet.unit
