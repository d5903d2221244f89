"""A page with its pencil marks, as it is looked at after a take: whole where it fits, else line by line."""

from collections.abc import Mapping, Sequence
from functools import partial

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.mark_drawing import PencilLayer
from game.desk.mark_lanes import LaneType
from game.desk.staff_text import measured_on_staff, rendered_on_staff
from game.engraving.above_staff import NO_NUMERALS
from game.engraving.layout import lay_out_page
from game.engraving.still_page import StillPage
from game.music.passage import Passage
from game.music.written import HeadId
from game.practice.pencilled import PlacedMark
from game.screens.context import ScreenContext
from game.screens.reading.music_view import ENGRAVED_FACES, Colours
from game.screens.reading.page_lanes import pencilled_page, print_of, whole_line
from game.screens.reading.run_underline import RunUnderline

# A passage is set smaller, down to this share, that more of it is in sight: as large as shows as much.
_SMALLEST_SHARE = 0.6


class MarkedPage:
    """A passage with `marks` in an area. Below each line there is as much room as its marks take, and below them the
    stroke of a `run`, if there is one. Of what is `read` all print is of that ink. `numerals` are the positions of the
    hand, by notehead.
    """

    def __init__(
        self,
        context: ScreenContext,
        passage: Passage,
        marks: Sequence[PlacedMark],
        area: pygame.Rect,
        run: RunUnderline | None = None,
        *,
        read: bool = False,
        numerals: Mapping[HeadId, str] = NO_NUMERALS,
    ) -> None:
        self._context, self._passage, self._marks, self._run = context, passage, marks, run
        self._read, self._numerals = read, numerals
        self._first = 0
        self.fit(area)

    def fit(self, area: pygame.Rect) -> None:
        """Lay the page out for an area."""
        self._area = area
        wanted = self._context.sheet.staff_space(self._context.settings.staff_space_px)
        smallest = round(wanted * _SMALLEST_SHARE)
        self._page, self._pencil, self._mark_ends = small = self._laid_out(smallest)
        seen = self._bars_in_sight()
        sizes = self._promising(wanted, smallest)
        for space_px in sorted(sizes - {smallest}, reverse=True):
            self._page, self._pencil, self._mark_ends = self._laid_out(space_px)
            if self._bars_in_sight() >= seen and self._fits:
                break
        else:
            self._page, self._pencil, self._mark_ends = small
            if self._run is not None and not self._fits:
                # Marks of a whole line may take all the room: they are told first.
                self._run = None
                self.fit(area)
                return
        self._first = min(self._first, self._last_first)

    @property
    def _fits(self) -> bool:
        """Whether what is in sight from the beginning is seen whole: one line always is, even where it is too high."""
        return self._page.lines[self._lines_from(0) - 1].band[1] <= self._area.height

    def _promising(self, wanted: int, smallest: int) -> set[int]:
        """Sizes that promise as many lines in sight as the smallest; to engrave at each would take long. In larger
        music notes stand further apart, and their marks may have room in one row.
        """
        rows = max(self._pencil.rows_wanted(self._marks, self._context.theme).values(), default=0)
        at_most, surely = self._largest(wanted, smallest, min(rows, 1)), self._largest(wanted, smallest, rows)
        return {at_most, (at_most + surely) // 2, surely, (surely + smallest) // 2}

    def _largest(self, wanted: int, smallest: int, rows_then: int) -> int:
        """The largest size at which as many lines fit if their marks take so many rows."""
        lines = self._lines_from(0)
        height = self._page.lines[lines - 1].band[1]
        rows = max(self._pencil.rows_wanted(self._marks, self._context.theme).values(), default=0)
        run_px = sum(self._run_rooms(self._page)[:lines])
        grows = height - lines * self._type_at(smallest).height_px(rows) - run_px
        room = self._area.height - run_px
        fitting = (
            space_px
            for space_px in range(wanted, smallest, -1)
            if grows * space_px / smallest + lines * self._type_at(space_px).height_px(rows_then) <= room
        )
        return next(fitting, smallest)

    def _type_at(self, space_px: int) -> LaneType:
        return LaneType.of(space_px, self._context.sheet.mark_px)

    def _bars_in_sight(self) -> int:
        """How many bars can be seen at once, from the beginning."""
        return sum(len(line.bars) for line in self._page.lines[: self._lines_from(0)])

    def _laid_out(self, space_px: int) -> tuple[StillPage, PencilLayer, tuple[int, ...]]:
        passage, settings, theme = self._passage, self._context.settings, self._context.theme
        width, face = self._area.width / space_px, ENGRAVED_FACES[settings.music_face]
        engraving = lay_out_page(
            passage.bars,
            passage.reading,
            width,
            face,
            final_barline=passage.ends_tune,
            measure=measured_on_staff,
            numerals=self._numerals,
        )
        ink = theme.read if self._read else theme.ink
        make = partial(StillPage, engraving, space_px, theme.paper, ink, rendered_on_staff)
        lane_type = self._type_at(space_px)
        return pencilled_page(make, self._marks, lane_type, settings.note_names, theme, self._run_rooms)

    def _run_rooms(self, page: StillPage) -> list[int]:
        """What the stroke of the run takes below the marks of each line."""
        none = [0] * len(page.lines)
        return self._run.rooms_px(page, self._context.sheet.unit) if self._run else none

    def _lines_from(self, first: int) -> int:
        """How many lines from one on fit the area whole; one at least."""
        lines = self._page.lines
        fit = [line for line in lines[first:] if line.band[1] - lines[first].band[0] <= self._area.height]
        return max(1, len(fit))

    @property
    def _last_first(self) -> int:
        """The first line that can be at the top while the last one is in sight."""
        lines = len(self._page.lines)
        return next(first for first in range(lines) if first + self._lines_from(first) >= lines)

    @property
    def more(self) -> bool:
        """Whether there are lines out of sight."""
        return self._last_first > 0

    @property
    def in_sight(self) -> range:
        """The lines that are in sight."""
        return range(self._first, self._first + self._lines_from(self._first))

    def turn(self, by: int) -> None:
        """Go on by so many lines, back where negative."""
        self._first = max(0, min(self._last_first, self._first + by))

    def draw(self, surface: pygame.Surface, colours: Colours) -> None:
        """Draw the lines in sight, and their marks."""
        top, bottom = (self._page.lines[line].band for line in (self.in_sight[0], self.in_sight[-1]))
        area = pygame.Rect(self._area.left, self._area.top, self._area.width, bottom[1] - top[0]).clip(self._area)
        self._page.draw(surface, area, colours, top[0])
        seen = whole_line(self._page, area.left, area.top - top[0])
        in_sight = self.in_sight
        clip = surface.get_clip()
        surface.set_clip(area)
        self._pencil.draw(surface, self._marks, lambda line: seen if line in in_sight else None, self._context.theme)
        self._draw_run(surface, area.top - top[0])
        surface.set_clip(clip)

    def _draw_run(self, surface: pygame.Surface, down: int) -> None:
        if self._run is None:
            return
        canvas = Canvas(surface, self._context.sheet, self._context.theme)
        for line in self.in_sight:
            y = print_of(self._page, line).bottom + self._mark_ends[line] + down
            self._run.draw(canvas, self._page, line, pygame.Rect(self._area.left, y, 0, 0))
