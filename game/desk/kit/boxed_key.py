"""A key as a rehearsal letter in its box: what has one can be pressed, and clicked."""

from typing import Final

import pygame

from game.desk.kit.canvas import Align, Canvas, Point, Style, blend
from game.desk.theme import Colour
from game.desk.typography import Face

BOX_HEIGHT: Final = 27.0
"""Of the box, in units."""

HIT_HEIGHT: Final = 36.0
"""The least that can be clicked, box and words together, in units."""

BETWEEN: Final = 17.0
"""From one key with its words to the next."""

TO_WORDS: Final = 8.0
"""From the box to the words."""

WORDS_SIZE: Final = 21.0
_KEY_SIZE, _PADDING = 20.0, 14.0
_BASELINE_BELOW_MIDDLE = 0.32
_SIGNS: Final = ("-", "+")
_SIGN_LENGTH, _SIGN_THICK = 11.0, 2.2
"""Minus and plus are drawn: those of the type are hyphens, or hang below the middle of the box."""


def key_width(canvas: Canvas, key: str) -> float:
    """How wide the box of a key is, in units."""
    return max(BOX_HEIGHT, canvas.width_of(key, _lettering(canvas.theme.faded)) + _PADDING)


def draw_key(canvas: Canvas, key: str, at: Point, colour: Colour | None = None) -> pygame.Rect:
    """A key in its box, the left end and the middle of its height `at`; returns the pixels of the box."""
    colour = colour or canvas.theme.faded
    (x, middle), width = at, key_width(canvas, key)
    box = canvas.rect(x, middle - BOX_HEIGHT / 2, width, BOX_HEIGHT)
    stroke = max(1, round(1.6 * canvas.sheet.unit))
    pygame.draw.rect(canvas.surface, blend(canvas.theme.paper, colour, 0.75), box, stroke)
    if key in _SIGNS:
        _draw_sign(canvas, box, colour, upright=key == "+")
        return box
    baseline = middle + _BASELINE_BELOW_MIDDLE * _KEY_SIZE + 0.4
    canvas.write(key, (x + width / 2, baseline), _lettering(colour), Align.CENTRE)
    return box


def _draw_sign(canvas: Canvas, box: pygame.Rect, colour: Colour, *, upright: bool) -> None:
    """A minus in the middle of its box, or a plus."""
    # As odd or even as the box is, so that both its sides are alike.
    length = canvas.px(_SIGN_LENGTH) // 2 * 2 + box.width % 2
    thick = max(1, canvas.px(_SIGN_THICK))
    thick += (thick + box.height) % 2
    across = pygame.Rect(0, 0, length, thick)
    across.center = box.center
    canvas.surface.fill(colour, across)
    if upright:
        up = pygame.Rect(0, 0, thick, length)
        up.center = box.center
        canvas.surface.fill(colour, up)


def draw_words(canvas: Canvas, words: str, at: Point, *, face: Face = Face.ITALIC) -> pygame.Rect:
    """What a key does, beside its box: the left end and the middle of its height `at`; returns the pixels."""
    x, middle = at
    style = Style(face, WORDS_SIZE, canvas.theme.faded)
    return canvas.write(words, (x, middle + _BASELINE_BELOW_MIDDLE * WORDS_SIZE), style)


def _lettering(colour: Colour) -> Style:
    return Style(Face.TITLE, _KEY_SIZE, colour)
