"""The strip below an enlarged screen: the next thing and the foremost keys, always in sight and always there; and the
count, where it stands in a margin that is out of sight.
"""

from dataclasses import replace
from typing import Final

import pygame

from game.desk.count_drawing import draw_count
from game.desk.kit.boxed_key import BETWEEN, HIT_HEIGHT, draw_key, key_width
from game.desk.kit.canvas import Align, Canvas, Style, blend
from game.desk.kit.ground import draw_sheet
from game.desk.kit.inked import draw_ink, draw_shape
from game.desk.kit.key_rows import Keyed, KeyRoom, draw_key_rows, keyed_width
from game.desk.typography import Face, shortened, wrapped
from game.screens.context import ScreenContext
from game.screens.enlarged_view import STRIP_HEIGHT
from game.screens.key_hints import KeyHint, KeyPress, key_hints
from game.screens.tabbed_sheet import SheetTab
from game.screens.window import MESSAGE_S

_LEFT, _FOLD, _TO_KEY, _TO_WORDS, _TO_KEYS = 16.0, 34.0, 8.0, 10.0, 22.0
_WORDS_SIZE: Final = 26.0
_MOST_LINES: Final = 3
_WORDS_LINE: Final = 30.0
_COUNT_SIZE: Final = 26.0
_MOST_WORDS: Final = 0.62
"""The share of the strip that the next thing may take."""


class FootStrip:
    """The strip. It is drawn when what it says changes, and else only copied."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._says: object = None
        self.height_px = 0
        self._said, self._said_s = "", 0.0
        self._picture = pygame.Surface((1, 1))
        self._boxes: list[tuple[pygame.Rect, KeyPress]] = []

    def press_at(self, at: tuple[int, int]) -> KeyPress | None:
        """The press that a click is, in pixels of the window."""
        return next((press for box, press in self._boxes if box.collidepoint(at)), None)

    def take_words_away(self) -> None:
        """The mouse comes to what lies below what is said for a while."""
        self._said_s = -MESSAGE_S

    def draw(self, canvas: Canvas) -> None:
        """Lay it along the lower edge of the window."""
        window = self._context.window
        words = self._words_now()
        says = window.corner, tuple(window.told_keys), window.count, words, canvas.sheet, canvas.theme
        if says != self._says:
            self._says = says
            above = self._draw_words(canvas, words)
            self._draw(canvas, window.corner, self._keys())
            self.height_px = canvas.px(STRIP_HEIGHT) + above
            room = canvas.surface.get_rect()
            room.top, room.height = room.height - self.height_px, self.height_px
            self._picture = canvas.surface.subsurface(room).copy()
        canvas.surface.blit(self._picture, (0, canvas.sheet.size[1] - self.height_px))

    def _keys(self) -> tuple[KeyHint, ...]:
        """The keys of the screen but for its tabs and its corner, each as it was told first."""
        window = self._context.window
        told = {tab.press for tab in SheetTab} | set(window.corner.presses if window.corner else ())
        told.update(press for hint in key_hints(("F1", "keys.all")) for press in hint.presses)
        found = []
        for key in window.told_keys:
            if key.presses and key.presses[0] not in told:
                found.append(key)
                told.add(key.presses[0])
        return tuple(found)

    def _words_now(self) -> str:
        """What is said of a take: as long as a message, then it stands only where it always does."""
        window, now_s = self._context.window, self._context.clock.now_s()
        words = window.words
        if words != self._said:
            self._said, self._said_s = words, now_s
        return words if window.words_stay or now_s - self._said_s < MESSAGE_S else ""

    def _draw_words(self, canvas: Canvas, words: str) -> int:
        """What is said of a take, on a slip above the strip; returns how high that is, in pixels."""
        if not words:
            return 0
        style = Style(Face.ITALIC, _WORDS_LINE - 6, canvas.theme.ink)
        width, height = (px / canvas.sheet.unit for px in canvas.sheet.size)
        bottom = height - STRIP_HEIGHT
        lines = wrapped(words, style.face, canvas.px(style.size), canvas.px(width - 2 * _LEFT))[:_MOST_LINES]
        top = bottom - _WORDS_LINE * len(lines) - 6
        room = canvas.rect(0, top, width, bottom - top)
        draw_sheet(canvas, room, canvas.theme.paper, blur=0)
        draw_ink(canvas, [(0, top), (width, top)], 1.2, canvas.theme.edge)
        for number, line in enumerate(lines):
            canvas.write(line, (_LEFT, bottom - _WORDS_LINE * (len(lines) - 1 - number) - 10), style)
        return room.height

    def _draw(self, canvas: Canvas, corner: KeyHint | None, keys: tuple[KeyHint, ...]) -> None:
        self._boxes.clear()
        width, height = (px / canvas.sheet.unit for px in canvas.sheet.size)
        top = height - STRIP_HEIGHT
        room = canvas.rect(0, top, width, STRIP_HEIGHT)
        theme = canvas.theme
        ground = blend(theme.paper, theme.edge, 0.35)
        draw_sheet(canvas, room, ground, blur=0)
        draw_ink(canvas, [(0, top), (width, top)], 1.4, blend(theme.paper, theme.pencil, 0.6))
        right = width - _LEFT if corner is None else self._draw_next(canvas, corner, (width, height)) - _TO_KEYS
        left, middle, count = _LEFT, top + STRIP_HEIGHT / 2, self._context.window.count
        if count is not None:
            draw_count(
                canvas.surface,
                count,
                canvas.point((left + 24, middle)),
                canvas.px(_COUNT_SIZE),
                replace(theme, paper=ground),
            )
            left += 64
        self._draw_keys(canvas, keys, KeyRoom(left, right, middle))

    def _draw_next(self, canvas: Canvas, corner: KeyHint, end: tuple[float, float]) -> float:
        """The corner turned up a little, its key and its words; returns where they begin."""
        (right, bottom), theme = end, canvas.theme
        fold, tip = [(right, bottom - _FOLD), (right - _FOLD, bottom)], (right - _FOLD + 4, bottom - _FOLD + 4)
        draw_shape(canvas, [fold[0], (right, bottom), fold[1]], theme.desk)
        draw_shape(canvas, [fold[1], tip, fold[0]], theme.paper)
        draw_ink(canvas, [fold[1], tip, fold[0]], 1.3, blend(theme.paper, theme.pencil, 0.5))
        middle = bottom - STRIP_HEIGHT / 2
        x = right - _FOLD - _TO_KEY - key_width(canvas, corner.labels[0])
        draw_key(canvas, corner.labels[0], (x, middle), theme.accent)
        style = Style(Face.TITLE, _WORDS_SIZE, theme.ink)
        px = canvas.px(_WORDS_SIZE)
        words = shortened(corner.meaning, style.face, px, canvas.px(right * _MOST_WORDS))
        left = x - _TO_WORDS - canvas.width_of(words, style)
        canvas.write(words, (x - _TO_WORDS, middle + 9), style, Align.RIGHT)
        self._boxes.append((canvas.rect(left, bottom - STRIP_HEIGHT, right - left, STRIP_HEIGHT), corner.presses[0]))
        return left

    def _draw_keys(self, canvas: Canvas, keys: tuple[KeyHint, ...], room: KeyRoom) -> None:
        """As many keys as have room, and behind them the one that shows all."""
        (all_keys,) = key_hints(("F1", "keys.all"))
        last = _keyed_width(canvas, all_keys)
        fitting, x = [], room.left
        for key in keys:
            width = _keyed_width(canvas, key)
            if x + width + BETWEEN + last > room.right:
                break
            fitting.append(key)
            x += width + BETWEEN
        shown = (*fitting, all_keys) if x + last <= room.right else (replace(all_keys, meaning=""),)
        keyed = [Keyed(key.labels, key.meaning) for key in shown]
        boxes = draw_key_rows(canvas, keyed, room)
        for key, found in zip(shown, boxes, strict=True):
            for box, press in zip(found, key.presses, strict=False):
                tall = box.inflate(0, canvas.px(STRIP_HEIGHT - HIT_HEIGHT))
                self._boxes.append((tall.clip(canvas.surface.get_rect()), press))  # a pixel may be rounded beyond it


def _keyed_width(canvas: Canvas, key: KeyHint) -> float:
    return keyed_width(canvas, Keyed(key.labels, key.meaning))
