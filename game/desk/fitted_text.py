"""Running text that is made as small as it must be to fit its room."""

from collections.abc import Sequence
from dataclasses import dataclass

import pygame

from game.desk.paper import draw_paragraph
from game.desk.theme import Colour
from game.desk.typography import Face, wrapped

SMALLEST_TEXT_PX = 9
_LINE, _GAP = 1.25, 0.24
"""Of the size: from line to line, and from paragraph to paragraph beyond that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """A paragraph of running text. `indent` is in sizes of the text, at the left."""

    text: str
    colour: Colour
    face: Face = Face.TEXT
    indent: float = 0.0


def fitted_px(paragraphs: Sequence[Paragraph], room: pygame.Rect, px: int) -> int:
    """The largest size up to `px` at which the paragraphs fit `room`; 9 pixels where none does."""
    return next(
        (size for size in range(px, SMALLEST_TEXT_PX, -1) if _height(paragraphs, room.width, size) <= room.height),
        SMALLEST_TEXT_PX,
    )


def draw_fitted(surface: pygame.Surface, paragraphs: Sequence[Paragraph], room: pygame.Rect, px: int) -> pygame.Rect:
    """Draw the paragraphs one below the other from the top of `room`, as large as fits, at most `px`; returns the room
    they took.
    """
    size = fitted_px(paragraphs, room, px)
    y = room.top
    for paragraph in paragraphs:
        indent = round(paragraph.indent * size)
        line = pygame.Rect(room.left + indent, y, room.width - indent, room.height)
        used = draw_paragraph(surface, paragraph.text, line, paragraph.face, size, paragraph.colour)
        y = used.bottom + round(_GAP * size)
    return pygame.Rect(room.left, room.top, room.width, y - room.top)


def pages_of(paragraphs: Sequence[Paragraph], room: pygame.Rect, px: int) -> tuple[tuple[Paragraph, ...], ...]:
    """The paragraphs in as many pages as they need at this size, at least one; one that has no room on a page of its
    own stands alone, to be drawn smaller.
    """
    pages: list[list[Paragraph]] = [[]]
    for paragraph in paragraphs:
        if pages[-1] and _height([*pages[-1], paragraph], room.width, px) > room.height:
            pages.append([])
        pages[-1].append(paragraph)
    return tuple(map(tuple, pages))


def _height(paragraphs: Sequence[Paragraph], width: int, px: int) -> int:
    gap, line = round(_GAP * px), round(_LINE * px)
    return sum(line * len(wrapped(one.text, one.face, px, width - round(one.indent * px))) + gap for one in paragraphs)
