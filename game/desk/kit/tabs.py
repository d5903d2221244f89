"""Divider tabs at the upper edge of the paper: one for each sheet that lies here."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.boxed_key import draw_key, key_width
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.ground import TABBED_TOP, under_colour
from game.desk.kit.inked import draw_ink, draw_shape
from game.desk.typography import Face

_FIRST_LEFT: Final = 58.0
_RISE, _LIFTED = 35.0, 6.0
_SIZE = 22.0
_BEFORE, _TO_KEY, _AFTER, _BETWEEN = 18.0, 9.0, 16.0, 7.0
_LAST_RIGHT: Final = 40.0
"""From the last tab to the right edge of the window at least, in units."""


@dataclass(frozen=True, slots=True)
class Tab:
    """A tab: its word and its key."""

    word: str
    key: str


def draw_tabs(canvas: Canvas, tabs: Sequence[Tab], active: int) -> tuple[pygame.Rect, ...]:
    """The tabs, that of the sheet in sight lifted and of its paper; returns what can be clicked, in their order.

    They stand closer where a language has long words.
    """
    style = Style(Face.TEXT, _SIZE, canvas.theme.faded)
    widths = [
        _BEFORE + canvas.width_of(tab.word, style) + _TO_KEY + key_width(canvas, tab.key) + _AFTER for tab in tabs
    ]
    room = canvas.sheet.size[0] / canvas.sheet.unit - _FIRST_LEFT - _LAST_RIGHT
    needed = sum(widths) + _BETWEEN * (len(tabs) - 1)
    tighter = max(0.0, needed - room) / (2 * len(tabs))
    places, left = [], _FIRST_LEFT
    for width in widths:
        places.append((left, width - 2 * tighter))
        left += width - 2 * tighter + _BETWEEN
    return tuple(
        _draw_tab(canvas, tab, place, tighter, active=number == active)
        for number, (tab, place) in enumerate(zip(tabs, places, strict=True))
    )


def _draw_tab(canvas: Canvas, tab: Tab, place: tuple[float, float], tighter: float, *, active: bool) -> pygame.Rect:
    (left, width), theme = place, canvas.theme
    top = TABBED_TOP - _RISE - (_LIFTED if active else 0)
    foot = TABBED_TOP + (3 if active else 0)
    right = left + width
    outline = [
        (left, foot),
        (left + 1, top + 7),
        (left + 8, top),
        (right - 8, top),
        (right - 1, top + 7),
        (right, foot),
    ]
    paper = theme.paper if active else under_colour(theme)
    draw_shape(canvas, outline, paper)
    draw_ink(
        canvas,
        outline if not active else [(x, min(y, TABBED_TOP)) for x, y in outline],
        1.2,
        blend(paper, theme.pencil, 0.28),
    )
    colour = theme.ink if active else blend(theme.faded, theme.ink, 0.45)
    face = Face.TITLE if active else Face.TEXT
    words = canvas.write(tab.word, (left + _BEFORE - tighter, top + 25), Style(face, _SIZE, colour))
    key_left = words.right / canvas.sheet.unit + _TO_KEY - tighter / 2
    draw_key(canvas, tab.key, (key_left, top + 18.5), colour)
    return canvas.rect(left, top, width, TABBED_TOP - top)
