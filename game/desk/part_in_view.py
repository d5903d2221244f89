"""Which part of a sheet is seen where the sheet is larger than the window: it follows what matters. In pixels, pure."""

from dataclasses import dataclass
from typing import Final

import pygame

Reach = tuple[int, int]
"""From where to where something reaches along one way, the end not in it."""

EDGE: Final = 0.12
"""Where the mouse is so near to an edge, as a share of the part in view, the part moves on."""


@dataclass(frozen=True, slots=True)
class Followed:
    """What is to be seen: `most` where it has room, from its beginning on where it has not, and of it `core` in any
    case. `turns` where the view stands still as long as the core is seen, and then goes on as far as it can, as pages
    are turned: for what is read along a line.
    """

    most: pygame.Rect
    core: pygame.Rect
    turns: bool = False


def follow_all(rect: pygame.Rect) -> Followed:
    """The whole of a rectangle, from its beginning on where it is larger than the view."""
    return Followed(rect, pygame.Rect(rect.topleft, (0, 0)))


def kept_on(part: pygame.Rect, sheet: pygame.Rect) -> pygame.Rect:
    """The part moved onto the sheet; one that is larger begins where the sheet does."""
    x = _clamped(part.left, part.width, (sheet.left, sheet.right))
    y = _clamped(part.top, part.height, (sheet.top, sheet.bottom))
    return pygame.Rect(x, y, *part.size)


def moved_to(part: pygame.Rect, sheet: pygame.Rect, followed: Followed, air: int) -> pygame.Rect:
    """The part moved as little as will do to show what is followed, with `air` around it where there is room; to where
    the sheet begins, if all of it is seen from there.
    """
    most, core, turns = followed.most, followed.core, followed.turns
    x = _along((part.left, part.width), (most.left, most.right), (core.left, core.right), air, turns=turns)
    y = _along((part.top, part.height), (most.top, most.bottom), (core.top, core.bottom), air, turns=False)
    if sheet.left <= most.left and most.right + air <= sheet.left + part.width:
        x = sheet.left
    if sheet.top <= most.top and most.bottom + air <= sheet.top + part.height:
        y = sheet.top
    return kept_on(pygame.Rect(x, y, *part.size), sheet)


def _along(seen: tuple[int, int], most: Reach, core: Reach, air: int, *, turns: bool) -> int:
    """Where the part begins along one way, from where it began and how much it shows."""
    at, length = seen
    if most[1] - most[0] <= length:
        return _brought_in(at, length, most, air)
    if turns:
        inside = at <= core[0] and core[1] <= at + length
        return at if inside else core[0] - min(air, max(0, length - (core[1] - core[0])))
    return _brought_in(most[0] - air, length, core, air)


def _brought_in(at: int, length: int, wanted: Reach, air: int) -> int:
    """Moved as little as will do; of what is longer than the part, its beginning is seen."""
    room = length - (wanted[1] - wanted[0])
    if room <= 0:
        return wanted[0]
    around = min(air, room // 2)
    return max(wanted[1] + around - length, min(at, wanted[0] - around))


def _clamped(at: int, length: int, sheet: Reach) -> int:
    return max(sheet[0], min(at, sheet[1] - length))


def pulled(mouse: tuple[int, int], size: tuple[int, int]) -> tuple[float, float]:
    """How strongly the mouse pulls the part, from -1 to 1 along each way: most at an edge, 0 in the middle, and beside
    the part, which is `size` large, not at all.
    """
    (x, y), (width, height) = mouse, size
    if not (0 <= x < width and 0 <= y < height):
        return 0.0, 0.0
    return _pulled_along(x / width), _pulled_along(y / height)


def _pulled_along(share: float) -> float:
    if share < EDGE:
        return share / EDGE - 1
    return max(0.0, (share - (1 - EDGE)) / EDGE)


def between(first: pygame.Rect, then: pygame.Rect, share: float) -> pygame.Rect:
    """The part on its way: at the first at 0, at the other at 1, and slower towards both."""
    eased = share * share * (3 - 2 * share)
    x = first.left + round((then.left - first.left) * eased)
    return pygame.Rect(x, first.top + round((then.top - first.top) * eased), *then.size)
