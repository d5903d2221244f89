"""All keys of a screen on one sheet, which lies on it until the next key: F1 or the question mark.

Where text is larger than the window has room for, the sheet has pages.
"""

from typing import Final

import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.ground import draw_sheet
from game.desk.kit.key_rows import ROW_HEIGHT, Keyed, KeyRoom, draw_key_rows, key_rows
from game.desk.typography import Face
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.text.catalogue import say

_LEFT, _TOP, _MARGIN, _TITLE = 90.0, 110.0, 44.0, 36.0
_NARROW_LEFT, _NARROW_MARGIN = 12.0, 24.0
_ALWAYS = (
    ("F1 ?", "keys.all_keys"),
    ("F2", "keys.look"),
    ("F3", "keys.face"),
    ("F6 F7", "keys.size"),
    ("F11", "keys.full_screen"),
)
"""What holds on every screen."""

_WHERE_ENLARGED = ("keys.ctrl_arrows", "keys.move_view")
_ONLY_CLOSE: Final = (pygame.K_ESCAPE, pygame.K_RETURN, pygame.K_KP_ENTER)
_TURNS: Final = {pygame.K_PAGEUP: -1, pygame.K_PAGEDOWN: 1}


def keys_of(context: ScreenContext) -> tuple[KeyHint, ...]:
    """Every key that does something on the screen in sight, each once, in the order they were told."""
    enlarged = (_WHERE_ENLARGED,) if context.settings.text_size > 100 else ()
    told = {hint.labels: hint for hint in (*context.window.told_keys, *key_hints(*_ALWAYS, *enlarged))}
    return tuple(told.values())


class KeysSheet:
    """The sheet of all keys; `shown` is what stands on it while it lies there, `drawn` whether it is in the window."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self.shown: tuple[KeyHint, ...] | None = None
        self.drawn = False
        self._page, self._pages = 0, 1

    def take(self, event: pygame.event.Event, screen: BaseScreen) -> bool:
        """Take a key, a click or the wheel; whether it was for the sheet alone. It goes with the next key: one that
        stands on it does what it says then.
        """
        if self.shown is None:
            return self._came(event, screen)
        if self._turned(event) or event.type not in (pygame.KEYDOWN, pygame.MOUSEBUTTONDOWN):
            return True
        self.take_away()
        screen.resized()
        return _asks_for_keys(event) or event.type == pygame.MOUSEBUTTONDOWN or event.key in _ONLY_CLOSE

    def take_away(self) -> None:
        """It lies there no longer."""
        self.shown = None

    def _came(self, event: pygame.event.Event, screen: BaseScreen) -> bool:
        if not _asks_for_keys(event) or (screen.typing and event.unicode):
            return False
        self.shown, self.drawn = keys_of(self._context), False
        self._page, self._pages = 0, 1
        screen.on_covered()
        return True

    def _turned(self, event: pygame.event.Event) -> bool:
        """Whether this turned to another of its pages, where it has several."""
        if self._pages == 1:
            return False
        wheel = -event.y if event.type == pygame.MOUSEWHEEL else 0
        by = _TURNS.get(event.key, 0) if event.type == pygame.KEYDOWN else wheel
        self._page = max(0, min(self._pages - 1, self._page + by))
        self.drawn = self.drawn and not by
        return bool(by)

    def draw(self, canvas: Canvas) -> None:
        """Lay it onto the picture, once."""
        if self.drawn or self.shown is None:
            return
        self.drawn = True
        if canvas.sheet.enlarged > 1:
            self._pages = draw_enlarged_keys(self._context, canvas, self.shown, self._page)
        else:
            self._pages = 1
            draw_keys_sheet(self._context, canvas, self.shown)


def draw_keys_sheet(context: ScreenContext, canvas: Canvas, keys: tuple[KeyHint, ...]) -> None:
    """Lay the sheet onto the picture. Only what stands on it can be clicked then."""
    _begin(context, keys)
    width, _ = (px / canvas.sheet.unit for px in canvas.sheet.size)
    left, right = _LEFT + _MARGIN, width - _LEFT - _MARGIN
    rows = len(key_rows(canvas, _keyed(keys), KeyRoom(left, right, 0)))
    height = 2 * _MARGIN + _TITLE + ROW_HEIGHT * rows
    draw_sheet(canvas, canvas.rect(_LEFT, _TOP, width - 2 * _LEFT, height), context.theme.paper, blur=10)
    canvas.write(say("keys.all_keys"), (left, _TOP + _MARGIN + 12), Style(Face.TITLE, 30, context.theme.ink))
    _draw_boxes(context, canvas, keys, KeyRoom(left, right, _TOP + height - _MARGIN + 4))


def draw_enlarged_keys(context: ScreenContext, canvas: Canvas, keys: tuple[KeyHint, ...], page: int) -> int:
    """The sheet in larger type fills the window, and has as many pages as it takes: returns how many."""
    _begin(context, keys)
    width, height = (px / canvas.sheet.unit for px in canvas.sheet.size)
    left, right = _NARROW_LEFT + _NARROW_MARGIN, width - _NARROW_LEFT - _NARROW_MARGIN
    room = canvas.rect(_NARROW_LEFT, _NARROW_LEFT, width - 2 * _NARROW_LEFT, height - 2 * _NARROW_LEFT)
    draw_sheet(canvas, room, context.theme.paper, blur=10)
    title = say("keys.all_keys")
    canvas.write(title, (left, _NARROW_LEFT + _NARROW_MARGIN + 16), Style(Face.TITLE, 30, context.theme.ink))
    turning = key_hints(("keys.page_up_down", "keys.turn_pages"))
    top, bottom = _NARROW_LEFT + _NARROW_MARGIN + _TITLE, height - _NARROW_LEFT - _NARROW_MARGIN
    fitting = int((bottom - top) / ROW_HEIGHT)
    keyed = dict(zip(_keyed(keys), keys, strict=True))
    rows = key_rows(canvas, tuple(keyed), KeyRoom(left, right, 0))
    if len(rows) > fitting:
        fitting -= 1
        _draw_boxes(context, canvas, turning, KeyRoom(left, right, bottom - ROW_HEIGHT / 2))
    shown = rows[page * fitting : (page + 1) * fitting]
    here = tuple(keyed[one] for row in shown for one in row)
    _draw_boxes(context, canvas, here, KeyRoom(left, right, top + ROW_HEIGHT * (len(shown) - 0.5)))
    return -(-len(rows) // fitting)


def _begin(context: ScreenContext, keys: tuple[KeyHint, ...]) -> None:
    context.window.begin_picture()
    context.window.tell_keys(keys)


def _keyed(keys: tuple[KeyHint, ...]) -> tuple[Keyed, ...]:
    return tuple(Keyed(key.labels, key.meaning, boxed=bool(key.presses)) for key in keys)


def _draw_boxes(context: ScreenContext, canvas: Canvas, keys: tuple[KeyHint, ...], room: KeyRoom) -> None:
    for key, boxes in zip(keys, draw_key_rows(canvas, _keyed(keys), room), strict=True):
        for box, press in zip(boxes, key.presses, strict=False):
            context.window.let_click(box, press)


def _asks_for_keys(event: pygame.event.Event) -> bool:
    """Whether a key asks for all keys of the screen."""
    return event.type == pygame.KEYDOWN and (event.key == pygame.K_F1 or event.unicode == "?")
