"""A page with its pencil marks, as it is looked at after a take: whole where it fits, else line by line."""

from collections.abc import Sequence
from functools import partial

import pygame

from game.desk.mark_lanes import LaneType
from game.desk.staff_text import measured_on_staff, rendered_on_staff
from game.engraving.layout import lay_out_page
from game.engraving.still_page import StillPage
from game.music.passage import Passage
from game.practice.pencilled import PlacedMark
from game.screens.context import ScreenContext
from game.screens.reading.music_view import ENGRAVED_FACES, Colours
from game.screens.reading.page_lanes import pencilled_page, whole_line

# A passage is set smaller, down to this share, to be seen as a whole. For a longer one these sizes are tried.
_SMALLEST_SHARE = 0.6
_SHARES = (1.0, 0.8, 0.6)


class MarkedPage:
    """A passage with `marks` in an area. Below each line there is as much room as its marks take."""

    def __init__(
        self, context: ScreenContext, passage: Passage, marks: Sequence[PlacedMark], area: pygame.Rect
    ) -> None:
        self._context, self._passage, self._marks = context, passage, marks
        self._first = 0
        self.fit(area)

    def fit(self, area: pygame.Rect) -> None:
        """Lay the page out for an area."""
        self._area = area
        wanted = self._context.sheet.staff_space(self._context.settings.staff_space_px)
        smallest = round(wanted * _SMALLEST_SHARE)
        if self._fits(smallest):
            next(space_px for space_px in range(wanted, smallest - 1, -1) if self._fits(space_px))
        else:
            self._lay_out(max((round(wanted * share) for share in _SHARES), key=self._bars_in_sight))
        self._first = min(self._first, self._last_first)

    def _fits(self, space_px: int) -> bool:
        """Lay the page out at a size; whether it can be seen as a whole."""
        self._lay_out(space_px)
        return self._page.size[1] <= self._area.height

    def _bars_in_sight(self, space_px: int) -> int:
        """Lay the page out at a size; how many bars of it can be seen at once, from its beginning."""
        self._lay_out(space_px)
        return sum(len(line.bars) for line in self._page.lines[: self._lines_from(0)])

    def _lay_out(self, space_px: int) -> None:
        passage, settings, theme = self._passage, self._context.settings, self._context.theme
        width, face = self._area.width / space_px, ENGRAVED_FACES[settings.music_face]
        engraving = lay_out_page(
            passage.bars, passage.reading, width, face, final_barline=passage.ends_tune, measure=measured_on_staff
        )
        make = partial(StillPage, engraving, space_px, theme.paper, theme.ink, rendered_on_staff)
        lane_type = LaneType.of(space_px, self._context.sheet.mark_px)
        self._page, self._pencil = pencilled_page(make, self._marks, lane_type, settings.note_names, theme)

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
        surface.set_clip(clip)
