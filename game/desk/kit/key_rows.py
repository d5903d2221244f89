"""The keys at the foot of a sheet, each in its box with what it does, in as many rows as they need. Nothing is cut."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.boxed_key import BETWEEN, HIT_HEIGHT, TO_WORDS, WORDS_SIZE, draw_key, draw_words, key_width
from game.desk.kit.canvas import Canvas, Style
from game.desk.typography import Face

ROW_HEIGHT: Final = 38.0
"""From one row to the next, in units."""

_SIDE_BY_SIDE: Final = 4.0


@dataclass(frozen=True, slots=True)
class Keyed:
    """What stands in the boxes, and what it does. `boxed` is no where that is no key but a string."""

    labels: tuple[str, ...]
    words: str
    boxed: bool = True


@dataclass(frozen=True, slots=True)
class KeyRoom:
    """Where the keys stand: from `left` to `right`, the middle of the lowest row at `middle`, all in units."""

    left: float
    right: float
    middle: float


def key_rows(canvas: Canvas, keys: Sequence[Keyed], room: KeyRoom) -> tuple[tuple[Keyed, ...], ...]:
    """The keys in rows, the uppermost first, each as full as it can be. One wider than the room has its own."""
    rows: list[list[Keyed]] = []
    x = room.left
    for key in keys:
        width = keyed_width(canvas, key)
        if not rows or x + width > room.right:
            rows.append([])
            x = room.left
        rows[-1].append(key)
        x += width + BETWEEN
    return tuple(tuple(row) for row in rows)


def draw_key_rows(canvas: Canvas, keys: Sequence[Keyed], room: KeyRoom) -> tuple[tuple[pygame.Rect, ...], ...]:
    """Draw the rows, the lowest at the middle of the room, the others above. Returns for each key, in the order given,
    what can be clicked for each of its boxes: with its last box go the words.
    """
    rows = key_rows(canvas, keys, room)
    hits = []
    for number, row in enumerate(rows):
        x, middle = room.left, room.middle - ROW_HEIGHT * (len(rows) - 1 - number)
        for key in row:
            hits.append(_draw(canvas, key, x, middle))
            x += keyed_width(canvas, key) + BETWEEN
    return tuple(hits)


def keyed_width(canvas: Canvas, key: Keyed) -> float:
    """How wide boxes and words are together, in units."""
    words = canvas.width_of(key.words, Style(Face.ITALIC, WORDS_SIZE, canvas.theme.faded))
    return _labels_width(canvas, key) + TO_WORDS + words


def _labels_width(canvas: Canvas, key: Keyed) -> float:
    if not key.boxed:
        style = Style(Face.TITLE, WORDS_SIZE, canvas.theme.faded)
        return canvas.width_of(" ".join(key.labels), style)
    return sum(key_width(canvas, label) for label in key.labels) + _SIDE_BY_SIDE * (len(key.labels) - 1)


def _draw(canvas: Canvas, key: Keyed, x: float, middle: float) -> tuple[pygame.Rect, ...]:
    end = x + keyed_width(canvas, key)
    draw_words(canvas, key.words, (x + _labels_width(canvas, key) + TO_WORDS, middle))
    if not key.boxed:
        draw_words(canvas, " ".join(key.labels), (x, middle), face=Face.TITLE)
        return ()
    hits = []
    for number, label in enumerate(key.labels):
        width = key_width(canvas, label)
        draw_key(canvas, label, (x, middle))
        last = number + 1 == len(key.labels)
        reach = end - x if last else width
        hits.append(canvas.rect(x, middle - HIT_HEIGHT / 2, reach, HIT_HEIGHT))
        x += width + _SIDE_BY_SIDE
    return tuple(hits)
