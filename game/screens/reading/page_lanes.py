"""The pencil's lanes under the lines of a still page."""

from collections.abc import Callable, Sequence
from functools import cache

import pygame

from game.desk.mark_drawing import PencilLayer
from game.desk.mark_lanes import MOST_ROWS, LaneType, LineInSight, NoteBox, PencilLane
from game.desk.theme import Theme
from game.engraving.still_page import StillPage
from game.music.names import NoteNames
from game.music.written import HeadId
from game.practice.pencilled import PlacedMark


def print_of(page: StillPage, line: int) -> pygame.Rect:
    """What is printed on a line, its staff included, in one rectangle of the page."""
    printed = list(page.lines[line].print_rects())
    top = page.lines[line].top_line_y
    staff = pygame.Rect(0, top, page.size[0], round(page.bottom_line_y(line)) + 1 - top)
    return staff.unionall(printed)


def note_box_on(page: StillPage, head: HeadId) -> NoteBox:
    """A note of a still page, in the pixels of the page."""
    line = page.line_of(head)
    return NoteBox(
        head=page.rect_of(head),
        group=page.group_rect_of(head),
        bottom_line_y=page.bottom_line_y(line),
        space_px=page.space_px,
        step_y=lambda step: page.step_y(line, step),
    )


def pencil_on(page: StillPage, rows: Sequence[int], lane_type: LaneType, names: NoteNames) -> PencilLayer:
    """The pencil on a page whose lines have room for so many rows of marks each."""

    @cache
    def lane_of(line: int) -> PencilLane:
        return PencilLane(
            top=print_of(page, line).bottom + lane_type.drop_px,
            rows=rows[line],
            left=0,
            right=page.size[0],
            printed=tuple(page.lines[line].print_rects()),
        )

    return PencilLayer(lambda head: (page.line_of(head), note_box_on(page, head)), lane_of, lane_type, names)


def pencilled_page(
    make: Callable[..., StillPage],
    marks: Sequence[PlacedMark],
    lane_type: LaneType,
    names: NoteNames,
    theme: Theme,
    more_px: Callable[[StillPage], Sequence[int]] | None = None,
) -> tuple[StillPage, PencilLayer, tuple[int, ...]]:
    """A page with as much room below each line as its marks take, the pencil on it, and for each line where its marks
    end, down from its print. `make` makes the page with room `below` its lines, in staff spaces; `more_px` is what else
    is to stand below the marks of each line.
    """
    bare = make()
    lines = len(bare.lines)
    wanted = pencil_on(bare, [MOST_ROWS] * lines, lane_type, names).rows_wanted(marks, theme)
    rows = [wanted.get(line, 0) for line in range(lines)]
    heights = tuple(lane_type.height_px(count) for count in rows)
    more = more_px(bare) if more_px else [0] * lines
    below = [(height + added) / bare.space_px for height, added in zip(heights, more, strict=True)]
    page = make(below=below)
    return page, pencil_on(page, rows, lane_type, names), heights


def whole_line(page: StillPage, dx: int, dy: int) -> LineInSight:
    """A line that is in sight from end to end, its page moved by so much."""
    return LineInSight(dx, dy, -1, page.size[0] + 1)


def moved(box: NoteBox, dx: int, dy: int) -> NoteBox:
    """A note as it is in the window when its page is moved by so much."""
    return NoteBox(
        head=box.head.move(dx, dy),
        group=box.group.move(dx, dy),
        bottom_line_y=box.bottom_line_y + dy,
        space_px=box.space_px,
        step_y=lambda step: box.step_y(step) + dy,
    )
