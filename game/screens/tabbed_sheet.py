"""The sheets with tabs: one click or one letter leads from each to every other."""

from dataclasses import dataclass
from enum import Enum

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.corner import draw_corner
from game.desk.kit.ground import TABBED_TOP, draw_ground
from game.desk.kit.tabs import Tab, draw_tabs
from game.screens.context import ScreenContext
from game.screens.free_string_words import free_string_in_words
from game.screens.key_hints import KeyHint, KeyPress
from game.screens.routes import Route, ToBook, ToLines, ToMap, ToProgress, ToSettings, ToShelf, ToToday
from game.text.catalogue import say

ENTER = KeyPress(pygame.K_RETURN, "\r")
"""The key of the corner, on every screen but the last."""

ESCAPE = KeyPress(pygame.K_ESCAPE, "\x1b")
"""The key that leads back."""


@dataclass(frozen=True, slots=True)
class _Leads:
    """The letter of a tab, its word in the catalogue, and where it leads."""

    letter: str
    word: str
    route: Route


class SheetTab(Enum):
    """The tabs, from left to right."""

    TODAY = _Leads("T", "tab.today", ToToday())
    SHELF = _Leads("H", "tab.shelf", ToShelf())
    LINE = _Leads("N", "tab.line", ToLines())
    MAP = _Leads("M", "tab.map", ToMap())
    PROGRESS = _Leads("G", "tab.progress", ToProgress())
    BOOK = _Leads("B", "tab.book", ToBook())
    SETTINGS = _Leads("S", "tab.settings", ToSettings())

    @property
    def route(self) -> Route:
        """Where the tab leads."""
        return self.value.route

    @property
    def press(self) -> KeyPress:
        """The press of its letter."""
        letter = self.value.letter.lower()
        return KeyPress(pygame.key.key_code(letter), letter)

    @property
    def hint(self) -> KeyHint:
        """The tab in words."""
        return KeyHint((self.value.letter,), say(self.value.word), (self.press,))


def route_of_tab(key: int) -> Route | None:
    """Where the letter of a tab leads; None for another key."""
    return next((tab.route for tab in SheetTab if tab.press.key == key), None)


def lay_sheet(context: ScreenContext, surface: pygame.Surface, active: SheetTab) -> Canvas:
    """Begin a picture with the empty sheet below its tabs, all of which can be clicked; returns where to draw on."""
    context.window.begin_picture()
    canvas = Canvas(surface, context.sheet, context.theme)
    draw_ground(canvas, TABBED_TOP)
    tabs = tuple(SheetTab)
    words = [Tab(say(tab.value.word), tab.value.letter) for tab in tabs]
    for tab, box in zip(tabs, draw_tabs(canvas, words, tabs.index(active)), strict=True):
        context.window.let_click(box, tab.press)
    context.window.tell_keys(tuple(tab.hint for tab in tabs))
    return canvas


def draw_next(
    context: ScreenContext,
    surface: pygame.Surface,
    words: str,
    *,
    above: str = "",
    label: str = "",
    press: KeyPress = ENTER,
) -> pygame.Rect:
    """Turn up the corner to the next thing, which Enter and a click on it lead to: what it is called, and a few quiet
    words `above`. Another key than Enter has its `label`. Returns the pixels that can be clicked.
    """
    label = label or say("keys.enter")
    box = draw_corner(Canvas(surface, context.sheet, context.theme), words, label, above)
    context.window.turn_up_corner(box, KeyHint((label,), words, (press,)))
    return box


def free_string_told(context: ScreenContext) -> tuple[KeyHint, ...]:
    """What the free open string does here, for a player with a guitar; nothing where no string is free."""
    neck_map = context.settings.neck_map()
    free = neck_map.free_string
    if free is None or not context.devices.instruments.present:
        return ()
    return (KeyHint((free_string_in_words(context, neck_map, free),), say("keys.next_or_back")),)
