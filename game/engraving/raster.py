"""Shapes to pixels: white masks by pygame's SVG loader, tinted copies, and a store of surfaces within a
bound.
"""

import io
import math
from collections import OrderedDict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass

import pygame

from game.engraving.engraver import UNITS_PER_SPACE
from game.engraving.shapes import Box, Shape, TextKind

Colour = tuple[int, int, int]

Letterer = Callable[[TextKind, str, Colour, int], tuple[pygame.Surface, int]]
"""Sets a text: kind, text, colour and pixels to a staff space give a surface and the row of its baseline."""

_MARGIN_PX = 1


@dataclass(frozen=True, slots=True)
class Grid:
    """Where staff spaces fall on pixels: `space_px` to a space, pixel 0, 0 at `left`, `top` in staff
    spaces.
    """

    space_px: int
    left: float
    top: float

    def x_px(self, x: float) -> float:
        """Pixels from the grid's left for an x in staff spaces."""
        return (x - self.left) * self.space_px

    def y_px(self, y: float) -> float:
        """Pixels from the grid's top for a y in staff spaces."""
        return (y - self.top) * self.space_px

    def covering(self, box: Box) -> pygame.Rect:
        """The whole pixels that a box touches, with a margin for soft edges."""
        left = math.floor(self.x_px(box.left)) - _MARGIN_PX
        top = math.floor(self.y_px(box.top)) - _MARGIN_PX
        right = math.ceil(self.x_px(box.right)) + _MARGIN_PX
        bottom = math.ceil(self.y_px(box.bottom)) + _MARGIN_PX
        return pygame.Rect(left, top, right - left, bottom - top)


def line_px(space_px: int) -> int:
    """Thickness of a staff line in whole pixels."""
    return max(1, round(0.08 * space_px))


def snapped_top(top_line: float, space_px: int) -> float:
    """The y in staff spaces of the pixel row edge that puts the middle of the top staff line on whole
    pixels.
    """
    middle_px = 0.5 if line_px(space_px) % 2 else 0.0
    return top_line - middle_px / space_px


def white_mask(shapes: Sequence[Shape], rect: pygame.Rect, grid: Grid) -> pygame.Surface:
    """The shapes in white on clear, as much of them as falls into `rect` of the grid."""
    per_px = UNITS_PER_SPACE / grid.space_px
    left = grid.left * UNITS_PER_SPACE + rect.x * per_px
    top = grid.top * UNITS_PER_SPACE + rect.y * per_px
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{rect.width}" height="{rect.height}" '
        f'viewBox="{left} {top} {rect.width * per_px} {rect.height * per_px}"><g fill="#fff">'
        f"{''.join(shape.svg for shape in shapes)}</g></svg>"
    )
    return white_from_svg(svg)


def white_from_svg(svg: str) -> pygame.Surface:
    """A drawing as a mask: white everywhere, opaque where it is inked."""
    surface = pygame.image.load(io.BytesIO(svg.encode()), "shapes.svg")
    if pygame.display.get_surface():
        surface = surface.convert_alpha()
    surface.fill((255, 255, 255, 0), special_flags=pygame.BLEND_RGBA_ADD)
    return surface


def tinted(white: pygame.Surface, colour: Colour) -> pygame.Surface:
    """A copy of a mask in a colour."""
    surface = white.copy()
    surface.fill((*colour, 255), special_flags=pygame.BLEND_RGBA_MULT)
    return surface


class SurfaceStore:
    """Surfaces by key; those not asked for longest are dropped once they come to more than `bound_bytes`."""

    def __init__(self, bound_bytes: int) -> None:
        self._bound_bytes = bound_bytes
        self._kept: OrderedDict[Hashable, pygame.Surface] = OrderedDict()
        self.held_bytes = 0

    def get(self, key: Hashable) -> pygame.Surface | None:
        """The surface kept under `key`, or None."""
        found = self._kept.get(key)
        if found is not None:
            self._kept.move_to_end(key)
        return found

    def keep(self, key: Hashable, surface: pygame.Surface) -> pygame.Surface:
        """Keep a surface, and give it back. The newest one stays even when it is over the bound by itself."""
        self._kept[key] = surface
        self.held_bytes += _size_bytes(surface)
        while self.held_bytes > self._bound_bytes and len(self._kept) > 1:
            _, dropped = self._kept.popitem(last=False)
            self.held_bytes -= _size_bytes(dropped)
        return surface

    def clear(self) -> None:
        """Drop everything."""
        self._kept.clear()
        self.held_bytes = 0


def _size_bytes(surface: pygame.Surface) -> int:
    return surface.get_pitch() * surface.get_height()
