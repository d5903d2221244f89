"""All keys of a screen on one sheet, which lies on it until the next key: F1 or the question mark."""

import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.ground import draw_sheet
from game.desk.kit.key_rows import ROW_HEIGHT, Keyed, KeyRoom, draw_key_rows, key_rows
from game.desk.typography import Face
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.text.catalogue import say

_LEFT, _TOP, _MARGIN, _TITLE = 90.0, 110.0, 44.0, 36.0
_ALWAYS = (
    ("F1 ?", "keys.all_keys"),
    ("F2", "keys.look"),
    ("F3", "keys.face"),
    ("F6 F7", "keys.size"),
    ("F11", "keys.full_screen"),
)
"""What holds on every screen."""


def keys_of(context: ScreenContext) -> tuple[KeyHint, ...]:
    """Every key that does something on the screen in sight, each once, in the order they were told."""
    told = {hint.labels: hint for hint in (*context.window.told_keys, *key_hints(*_ALWAYS))}
    return tuple(told.values())


def draw_keys_sheet(context: ScreenContext, surface: pygame.Surface, keys: tuple[KeyHint, ...]) -> None:
    """Lay the sheet onto the picture. Only what stands on it can be clicked then."""
    context.window.begin_picture()
    context.window.tell_keys(keys)
    canvas = Canvas(surface, context.sheet, context.theme)
    width, _ = (px / context.sheet.unit for px in context.sheet.size)
    left, right = _LEFT + _MARGIN, width - _LEFT - _MARGIN
    keyed = [Keyed(key.labels, key.meaning, boxed=bool(key.presses)) for key in keys]
    rows = len(key_rows(canvas, keyed, KeyRoom(left, right, 0)))
    height = 2 * _MARGIN + _TITLE + ROW_HEIGHT * rows
    draw_sheet(canvas, canvas.rect(_LEFT, _TOP, width - 2 * _LEFT, height), context.theme.paper, blur=10)
    canvas.write(say("keys.all_keys"), (left, _TOP + _MARGIN + 12), Style(Face.TITLE, 30, context.theme.ink))
    room = KeyRoom(left, right, _TOP + height - _MARGIN + 4)
    for key, boxes in zip(keys, draw_key_rows(canvas, keyed, room), strict=True):
        for box, press in zip(boxes, key.presses, strict=False):
            context.window.let_click(box, press)
