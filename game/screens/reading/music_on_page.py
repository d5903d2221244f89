"""The two ways to see the music on a page: a staff that moves under a still reading mark, or lines that stand still.

Both draw into an area they are given, and tell where a note stands for the pencil. Neither decides anything.
"""

from collections.abc import Mapping
from typing import Protocol

import pygame

from game.desk import pencil
from game.desk.mark_drawing import NoteBox
from game.desk.staff_text import rendered_on_staff
from game.desk.theme import Colour
from game.engraving.engraver import EngravedFace
from game.engraving.layout import lay_out_line, lay_out_page
from game.engraving.staff import Staff, StaffView
from game.engraving.still_page import StillPage
from game.music.passage import Passage
from game.music.pitch import pitch
from game.music.written import HeadId
from game.player.settings import MusicFace
from game.screens.context import ScreenContext
from game.screens.reading.gliding import Gliding

_READING_MARK_AT = 1 / 3
_LOWEST_LINE = pitch("E4").staff_step
# What must lie ahead of the reading mark, whatever the tempo: the eyes are about a second before the hands (Furneaux
# & Land 1999), and a bar shows the beat.
AHEAD_S = 1.3
_SMALLEST_SHARE = 0.6
_LINES_SHOWN = 2

ENGRAVED_FACES = {MusicFace.ENGRAVED: EngravedFace.ENGRAVED, MusicFace.HANDWRITTEN: EngravedFace.HANDWRITTEN}
Colours = Mapping[HeadId, Colour]


class MusicOnPage(Protocol):
    """Music in an area of the window; `covered` while it has still to be turned up."""

    covered: bool

    def engrave(self) -> None:
        """The look was changed: engrave anew."""
        ...

    def fit(self, area: pygame.Rect) -> None:
        """The area has changed: nothing is engraved again where that can be helped."""
        ...

    def look_at(self, head: HeadId, now_s: float) -> None:
        """A note is asked for: bring it before the eyes."""
        ...

    def follow(self, position_quarters: float) -> None:
        """The clock is at a moment of the music, counted from the first bar; negative in the count-in."""
        ...

    def moving(self, now_s: float) -> bool:
        """Whether the picture changes from frame to frame."""
        ...

    def draw(self, surface: pygame.Surface, colours: Colours, now_s: float) -> None:
        """Draw the music on paper."""
        ...

    def note_box(self, head: HeadId) -> NoteBox | None:
        """Where a note stands as it was drawn last, None where it is out of sight."""
        ...


class MovingMusic:
    """One endless line. In untimed stages it waits and glides on with the player, in time it goes with the clock, and
    at least `ahead_quarters` of music, in quarter notes, are in sight ahead of the reading mark.
    """

    covered = False

    def __init__(
        self, context: ScreenContext, passage: Passage, area: pygame.Rect, *, ahead_quarters: float = 0.0
    ) -> None:
        self._context, self._passage, self._area = context, passage, area
        self._gliding = Gliding()
        self._head: HeadId | None = None
        self._position: float | None = None
        self._least_ahead_quarters = ahead_quarters
        self.engrave()

    def engrave(self) -> None:
        passage, face = self._passage, ENGRAVED_FACES[self._context.settings.music_face]
        self._engraving = lay_out_line(passage.bars, passage.reading, face, final_barline=passage.ends_tune)
        self.fit(self._area)

    def fit(self, area: pygame.Rect) -> None:
        self._area = area
        theme = self._context.theme
        wanted = self._context.sheet.staff_space(self._context.settings.staff_space_px)
        self._staff = Staff(self._engraving, wanted, theme.paper, theme.ink, rendered_on_staff)
        while not self._enough_ahead() and self._staff.space_px > wanted * _SMALLEST_SHARE:
            self._staff.resize(self._staff.space_px - 1)
        self._view = StaffView(area, self._top_line_y, 0)
        if self._head is not None:
            self._gliding = Gliding()
            self._gliding.stand(self._staff.rect_of(self._head).centerx - self._reading_x)

    def _enough_ahead(self) -> bool:
        return self._area.width - self._reading_x >= self._ahead_px

    @property
    def _ahead_px(self) -> float:
        """How wide the least music ahead is where it is widest."""
        least = self._least_ahead_quarters
        if not least:
            return 0.0
        length = float(sum(bar.length for bar in self._passage.bars))
        starts = [step * 0.5 for step in range(int(max(0.0, length - least) * 2) + 1)]
        return max(self._staff.x_at(start + least) - self._staff.x_at(start) for start in starts)

    @property
    def _reading_x(self) -> float:
        """The reading mark, in pixels from the left of the area: a third of the way, nearer the clef in fast music."""
        clear_of_clef = self._staff.opening_px + 3.5 * self._staff.space_px
        usual = max(self._area.width * _READING_MARK_AT, clear_of_clef)
        return min(usual, max(clear_of_clef, self._area.width - self._ahead_px))

    @property
    def _top_line_y(self) -> int:
        """The staff stands in the middle of its area, moved where high or low notes need the room."""
        area, staff = self._area, self._staff
        middle = area.centery - 2 * staff.space_px
        highest = area.top + staff.above_px
        lowest = area.bottom - max(staff.below_px, 4 * staff.space_px)
        return max(highest, min(middle, lowest)) if lowest >= highest else middle

    def look_at(self, head: HeadId, now_s: float) -> None:
        self._head = head
        self._gliding.send(self._staff.rect_of(head).centerx - self._reading_x, now_s)

    def follow(self, position_quarters: float) -> None:
        self._position = position_quarters

    def scroll_at(self, now_s: float) -> float:
        """How far the staff has moved, in pixels."""
        if self._position is not None:
            return self._staff.x_at(self._position) - self._reading_x
        return self._gliding.at(now_s)

    def moving(self, now_s: float) -> bool:
        return self._position is not None or self._gliding.moving(now_s)

    def draw(self, surface: pygame.Surface, colours: Colours, now_s: float) -> None:
        self._view = StaffView(self._area, self._top_line_y, round(self.scroll_at(now_s)))
        self._staff.draw(surface, self._view, colours)
        self._draw_reading_mark(surface)

    def _draw_reading_mark(self, surface: pygame.Surface) -> None:
        """Two pencil ticks, above and below the staff: nothing stands on the notes, nor on the chord symbols."""
        theme, space = self._context.theme, self._staff.space_px
        x = self._area.left + self._reading_x
        above = self._view.top_line_y - max(5.2 * space, self._staff.above_px + 1.6 * space)
        below = self._view.top_line_y + 4 * space + 5.2 * space
        for y, seed in ((max(self._area.top, above), 5), (below, 6)):
            tick = pencil.line(1.4 * space, max(2.2, space * 0.15), theme.pencil, seed, upright=True)
            surface.blit(tick, tick.get_rect(midtop=(x, y)))

    def note_box(self, head: HeadId) -> NoteBox | None:
        staff, view = self._staff, self._view
        place = staff.on_screen(staff.rect_of(head), view)
        # The pencil does not write on the clef.
        if not view.area.left + staff.opening_px < place.centerx < view.area.right:
            return None
        return NoteBox(
            head=place,
            group=staff.on_screen(staff.group_rect_of(head), view),
            bottom_line_y=view.top_line_y + staff.step_y(_LOWEST_LINE),
            space_px=staff.space_px,
            step_y=lambda step: view.top_line_y + staff.step_y(step),
        )


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
            engraving = lay_out_page(passage.bars, passage.reading, width_spaces, face, final_barline=ends)
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
            bottom_line_y=self._page.step_y(line, _LOWEST_LINE) + dy,
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
