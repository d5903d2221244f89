"""Lines that stand still: no cursor moves over them."""

import pygame

from game.desk import pencil
from game.desk.mark_drawing import NoteBox
from game.desk.staff_text import measured_on_staff, rendered_on_staff
from game.engraving.layout import lay_out_page
from game.engraving.still_page import StillPage
from game.music.passage import Passage
from game.music.written import HeadId
from game.screens.context import ScreenContext
from game.screens.reading.music_view import ENGRAVED_FACES, LOWEST_LINE, Colours

_LINES_SHOWN = 2


class StillMusic:
    """Lines of about four bars, two in sight: the line just left is replaced while the next is read.

    No cursor moves; a pencil tick at the bar line says that a bar has been left. With `slip` a slip of paper covers the
    bar being played, so that the eyes must go ahead.
    """

    covered = False

    def __init__(self, context: ScreenContext, passage: Passage, area: pygame.Rect, *, slip: bool = False) -> None:
        self._context, self._passage, self._area = context, passage, area
        self.slip = slip
        self._bar = -1
        self._ends = _bar_ends(passage)
        self.engrave()

    def engrave(self) -> None:
        self.fit(self._area)

    def fit(self, area: pygame.Rect) -> None:
        self._area = area
        settings, theme, passage = self._context.settings, self._context.theme, self._passage
        space_px = self._context.sheet.staff_space(settings.staff_space_px)
        while True:
            face = ENGRAVED_FACES[settings.music_face]
            width_spaces, ends = area.width / space_px, passage.ends_tune
            engraving = lay_out_page(
                passage.bars, passage.reading, width_spaces, face, final_barline=ends, measure=measured_on_staff
            )
            self._page = StillPage(engraving, space_px, theme.paper, theme.ink, rendered_on_staff)
            if self._row_height * min(_LINES_SHOWN, len(self._page.lines)) <= area.height or space_px <= 9:
                return
            space_px -= 1

    @property
    def _row_height(self) -> int:
        """The tallest line; between the lines there is room for the pencil."""
        return max(line.band[1] - line.band[0] for line in self._page.lines) + self._page.space_px // 2

    def look_at(self, head: HeadId, now_s: float) -> None:  # noqa: ARG002 - part of the interface
        self._bar = head.bar

    def follow(self, position_quarters: float) -> None:
        self._bar = next((i for i, end in enumerate(self._ends) if position_quarters < end), len(self._ends))
        if position_quarters < 0:
            self._bar = -1

    def moving(self, now_s: float) -> bool:  # noqa: ARG002
        return False

    @property
    def _reading_line(self) -> int:
        lines = self._page.lines
        return next((i for i, line in enumerate(lines) if self._bar <= line.bars[-1]), len(lines) - 1)

    def _rows(self) -> dict[int, int]:
        """Which lines are in sight, and in which row: the one being read and the next take turns."""
        reading = self._reading_line
        shown = [line for line in (reading, reading + 1) if line < len(self._page.lines)]
        if len(shown) == 1 and reading > 0:
            shown.insert(0, reading - 1)
        return {line: line % _LINES_SHOWN for line in shown}

    def _place(self, line: int) -> pygame.Rect | None:
        row = self._rows().get(line)
        if row is None:
            return None
        band = self._page.lines[line].band
        y = self._area.top + row * self._row_height
        return pygame.Rect(self._area.left, y, self._area.width, band[1] - band[0])

    def draw(self, surface: pygame.Surface, colours: Colours, now_s: float) -> None:  # noqa: ARG002
        surface.fill(self._context.theme.paper, self._area)
        for line in self._rows():
            place = self._place(line)
            assert place is not None
            self._page.draw(surface, place, colours, self._page.lines[line].band[0])
            self._draw_bars(surface, line, place)

    def _draw_bars(self, surface: pygame.Surface, line: int, place: pygame.Rect) -> None:
        theme, space = self._context.theme, self._page.space_px
        page_line = self._page.lines[line]
        top = place.top + page_line.top_line_y - page_line.band[0]
        for bar in page_line.bars:
            left, right = (self._area.left + x for x in page_line.bar_span(bar))
            if bar < self._bar:
                tick = pencil.line(0.9 * space, max(1.6, space * 0.11), theme.pencil, bar, upright=True)
                surface.blit(tick, tick.get_rect(midbottom=(right, top - 0.35 * space)))
            elif bar == self._bar and self.slip:
                slip = pygame.Rect(left + 2, top - 2.5 * space, right - left - 3, 9 * space)
                surface.fill(theme.edge, slip.move(2, 3))
                surface.fill(theme.desk, slip)

    def note_box(self, head: HeadId) -> NoteBox | None:
        line = self._page.line_of(head)
        place = self._place(line)
        if place is None:
            return None
        dx, dy = place.left, place.top - self._page.lines[line].band[0]
        return NoteBox(
            head=self._page.rect_of(head).move(dx, dy),
            group=self._page.group_rect_of(head).move(dx, dy),
            bottom_line_y=self._page.step_y(line, LOWEST_LINE) + dy,
            space_px=self._page.space_px,
            step_y=lambda step: self._page.step_y(line, step) + dy,
        )


def _bar_ends(passage: Passage) -> tuple[float, ...]:
    """Where each bar ends, in quarter notes from the start."""
    ends, at = [], 0.0
    for bar in passage.bars:
        at += float(bar.length)
        ends.append(at)
    return tuple(ends)
