"""A slip of paper with a message: it slides from the top edge onto the desk and never covers a key."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.ground import draw_sheet
from game.desk.theme import Theme
from game.desk.typography import Face, wrapped

SLIP_WIDTH: Final = 520.0
"""Of a message in one line, in units; a longer one has more lines, each as wide."""

_WIDTHS: Final = (SLIP_WIDTH, 412.0, 300.0)
"""Where there is no room for a wide one it is narrow."""

_LEFT, _RIGHT_MARGIN = 62.0, 60.0
_LINE, _PADDING, _SIZE = 27.0, 20.0, 22.0
_FIRST_BASELINE = 29.0
_AROUND: Final = 5.0
_LIKE_PAPER: Final = (4, 4, 4, 255)
_COARSE: Final = 4
"""So many pixels of the picture are one where room is looked for."""


@dataclass(frozen=True, slots=True)
class SlipRoom:
    """Where a slip comes to lie: its left and its upper edge, and its width, in units."""

    left: float
    top: float
    width: float = SLIP_WIDTH


def slip_rooms(canvas: Canvas, tops: Iterable[float], *, only_wide: bool = False) -> Iterator[SlipRoom]:
    """Where a slip may lie whose upper edge is at one of these: best as wide as it should be, and at the right, where
    little is written; `only_wide` where it must not become high.
    """
    window = canvas.sheet.size[0] / canvas.sheet.unit
    heights = tuple(tops)
    for width in _WIDTHS[:1] if only_wide else _WIDTHS:
        for top in heights:
            for left in (window - _RIGHT_MARGIN - width, (window - width) / 2, _LEFT):
                yield SlipRoom(left, top, width)


def free_room(
    canvas: Canvas,
    text: str,
    empty: pygame.Surface,
    rooms: Iterable[SlipRoom],
    taken: Sequence[pygame.Rect] = (),
) -> SlipRoom:
    """The first room for a message where the picture on the canvas is as `empty`, the bare desk and its paper; if there
    is none, that where least is covered. It lies on nothing of what is `taken` if that can be.
    """
    window, written = canvas.surface.get_rect(), _written(canvas.surface, empty)
    least, fewest = SlipRoom(_LEFT, 0.0), float("inf")
    heights = {width: slip_height(canvas, text, width) for width in _WIDTHS}
    for room in rooms:
        around = 2 * canvas.px(_AROUND)
        rect = canvas.rect(room.left, room.top, room.width, heights[room.width]).inflate(around, around).clip(window)
        block = pygame.Mask((rect.width // _COARSE + 1, rect.height // _COARSE + 1), fill=True)
        covered = written.overlap_area(block, (rect.left // _COARSE, rect.top // _COARSE))
        if not covered:
            return room
        if rect.collidelist(list(taken)) >= 0:
            covered += window.width * window.height
        if covered < fewest:
            least, fewest = room, covered
    return least


def _written(picture: pygame.Surface, empty: pygame.Surface) -> pygame.Mask:
    """Where a picture is not as the empty one, both made coarser: that is quick, and sees the thinnest line still."""
    size = picture.get_width() // _COARSE, picture.get_height() // _COARSE
    seen, bare = (pygame.transform.smoothscale(one, size) for one in (picture, empty))
    written = pygame.mask.from_threshold(seen, (0, 0, 0), _LIKE_PAPER, bare)
    written.invert()
    return written


def slip_height(canvas: Canvas, text: str, width: float = SLIP_WIDTH) -> float:
    """How high the slip of a message is, in units: 44 for one line."""
    return 17 + _LINE * len(_lines(canvas, text, width))


def draw_slip(canvas: Canvas, text: str, room: SlipRoom, *, shown: float = 1.0) -> pygame.Rect:
    """The slip, in its room once it has slid in; `shown` goes from 0, above the window, to 1. Returns the pixels it
    covers.
    """
    rect = _rect_of(canvas, text, room)
    rect.bottom = round(rect.bottom * shown - (1 - shown) * canvas.px(12))
    draw_sheet(canvas, rect, _paper(canvas.theme), blur=5)
    style, (left, top) = Style(Face.TEXT, _SIZE, canvas.theme.ink), (px / canvas.sheet.unit for px in rect.topleft)
    for number, line in enumerate(_lines(canvas, text, room.width)):
        canvas.write(line, (left + _PADDING, top + _FIRST_BASELINE + number * _LINE), style)
    return rect


def _rect_of(canvas: Canvas, text: str, room: SlipRoom) -> pygame.Rect:
    return canvas.rect(room.left, room.top, room.width, slip_height(canvas, text, room.width))


def _lines(canvas: Canvas, text: str, width: float) -> tuple[str, ...]:
    return wrapped(text, Face.TEXT, canvas.px(_SIZE), canvas.px(width - 2 * _PADDING))


def _paper(theme: Theme) -> tuple[int, int, int]:
    """Fresher than the sheet below it."""
    red, green, blue = (min(255, value + 6) for value in theme.paper)
    return red, green, blue
