"""The print of one system as small masks, each tinted when it is drawn: a note's colour changes without
engraving.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import pygame

from game.engraving.raster import Colour, Grid, SurfaceStore, tinted, white_mask
from game.engraving.shapes import Shape, System, bounding_box
from game.music.written import HeadId

# Bounds for one staff or page: some 600 notes each at 22 px a staff space.
MASK_BYTES = 12_000_000
TINT_BYTES = 12_000_000
# Loose print such as ledger lines and bar lines is drawn together where it lies this close, in staff spaces.
_CLUSTER_GAP = 0.5
_CLUSTER_WIDTH = 8.0


@dataclass(frozen=True, slots=True)
class Sprite:
    """Shapes that are drawn in one colour: the one its `heads` share, or plain ink."""

    heads: tuple[HeadId, ...]
    shapes: tuple[Shape, ...]


def sprites_of(system: System, *, opening: bool) -> tuple[Sprite, ...]:
    """A system's print in drawing order: ground, notes, then beams and ties, which lie over the stems.

    `opening` takes clef, key and metre in; the moving staff draws its own.
    """
    ground = (*system.opening, *system.ground) if opening else system.ground
    return (
        *(Sprite((), shapes) for shapes in _clusters(ground)),
        *(Sprite((head,), tuple(shapes)) for head, shapes in system.groups.items()),
        *(Sprite(join.heads, join.shapes) for join in system.joins),
    )


def _clusters(shapes: Sequence[Shape]) -> Iterator[tuple[Shape, ...]]:
    """Neighbouring shapes together, from left to right, so that few surfaces are drawn."""
    cluster: list[Shape] = []
    left = right = 0.0
    for shape in sorted(shapes, key=lambda shape: shape.box.left):
        near = shape.box.left - right < _CLUSTER_GAP and shape.box.right - left < _CLUSTER_WIDTH
        if cluster and not near:
            yield tuple(cluster)
            cluster = []
        if not cluster:
            left, right = shape.box.left, shape.box.right
        cluster.append(shape)
        right = max(right, shape.box.right)
    if cluster:
        yield tuple(cluster)


class SpriteSheet:
    """A system's sprites on a pixel grid, rasterised when first seen and kept within bounds."""

    def __init__(self, sprites: Sequence[Sprite], grid: Grid) -> None:
        self._grid = grid
        self._sprites = tuple(sprites)
        extents = (bounding_box(shape.box for shape in sprite.shapes) for sprite in self._sprites)
        self._rects = tuple(grid.covering(extent) for extent in extents)
        self._by_left = sorted(range(len(self._sprites)), key=lambda index: self._rects[index].left)
        self._lefts = [self._rects[index].left for index in self._by_left]
        self._widest = max((rect.width for rect in self._rects), default=0)
        self._masks = SurfaceStore(MASK_BYTES)
        self._tints = SurfaceStore(TINT_BYTES)

    @property
    def held_bytes(self) -> int:
        """What the kept surfaces come to."""
        return self._masks.held_bytes + self._tints.held_bytes

    def between(self, left_px: int, right_px: int) -> list[int]:
        """Indices of the sprites that touch the columns from `left_px` to `right_px`, in drawing order."""
        first = bisect_left(self._lefts, left_px - self._widest)
        last = bisect_right(self._lefts, right_px)
        return sorted(index for index in self._by_left[first:last] if self._rects[index].right >= left_px)

    def drawn(
        self, indices: Sequence[int], colours: Mapping[HeadId, Colour], ink: Colour
    ) -> Iterator[tuple[pygame.Surface, pygame.Rect]]:
        """Tinted surfaces with their places on the grid."""
        for index in indices:
            yield self._tint(index, _colour_of(self._sprites[index], colours, ink)), self._rects[index]

    def prepare(self, indices: Sequence[int], ink: Colour, at_most: int) -> int:
        """Rasterise up to `at_most` of the sprites that were not yet; gives how many there were."""
        made = 0
        for index in indices:
            if made == at_most:
                break
            if self._masks.get(index) is None:
                self._tint(index, ink)
                made += 1
        return made

    def touching(self, heads: frozenset[HeadId]) -> list[pygame.Rect]:
        """Places of the sprites whose colour hangs on any of the noteheads."""
        return [
            rect for sprite, rect in zip(self._sprites, self._rects, strict=True) if not heads.isdisjoint(sprite.heads)
        ]

    def _tint(self, index: int, colour: Colour) -> pygame.Surface:
        found = self._tints.get((index, colour))
        if found is not None:
            return found
        white = self._masks.get(index)
        if white is None:
            white = self._masks.keep(index, white_mask(self._sprites[index].shapes, self._rects[index], self._grid))
        return self._tints.keep((index, colour), tinted(white, colour))


def _colour_of(sprite: Sprite, colours: Mapping[HeadId, Colour], ink: Colour) -> Colour:
    """The colour the sprite's noteheads share; ink when they differ or it has none."""
    shared = {colours.get(head, ink) for head in sprite.heads}
    return shared.pop() if len(shared) == 1 else ink
