"""Where the pencil writes: a lane below the lowest print of each line of music."""

from collections.abc import Callable
from dataclasses import dataclass

import pygame

# In type sizes: from row to row, and from the lowest print to the first row.
_ROW, _DROP = 1.5, 0.55
_TYPE_SPACES = 1.25
# More rows than these would lead the eyes too far from the staff.
MOST_ROWS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteBox:
    """A printed note as the pencil sees it, in pixels: its head, the rectangle of head, stem and accidental, and the
    bottom line of its staff. `step_y` gives the y of a line or space by `Pitch.staff_step`.
    """

    head: pygame.Rect
    group: pygame.Rect
    bottom_line_y: float
    space_px: int
    step_y: Callable[[int], float]


@dataclass(frozen=True, slots=True)
class LaneType:
    """The size of what is written in lanes: in proportion to the staff, but never under the smallest on a sheet."""

    px: int

    @classmethod
    def of(cls, space_px: int, smallest_px: int) -> "LaneType":
        """The type for a staff."""
        return cls(max(smallest_px, round(_TYPE_SPACES * space_px)))

    @property
    def row_px(self) -> int:
        """From row to row."""
        return round(_ROW * self.px)

    @property
    def drop_px(self) -> int:
        """From the lowest print to the first row: the shortest stroke."""
        return round(_DROP * self.px)

    def height_px(self, rows: int) -> int:
        """What so many rows take below the lowest print; nothing for none."""
        return self.drop_px + rows * self.row_px if rows else 0

    def rows_in(self, room_px: float) -> int:
        """How many rows fit below the lowest print: one at least, `MOST_ROWS` at most."""
        return max(1, min(MOST_ROWS, int(room_px - self.drop_px) // self.row_px))


@dataclass(frozen=True, slots=True, kw_only=True)
class PencilLane:
    """Where the pencil writes under one line of music, in the pixels of that line: from `top` down so many `rows`, of
    which counts take the last where there are any. `left` and `right` are the ends of the line, `printed` is all that
    is printed on it.
    """

    top: int
    rows: int
    left: int
    right: int
    printed: tuple[pygame.Rect, ...]


@dataclass(frozen=True, slots=True)
class LineInSight:
    """Where the pixels of a line are in the window, and between which of its x its notes are in sight."""

    dx: int
    dy: int
    left: float
    right: float
