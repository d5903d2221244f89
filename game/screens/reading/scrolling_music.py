"""One endless line that moves under a still reading mark."""

import pygame

from game.desk import pencil
from game.desk.mark_drawing import NoteBox
from game.desk.staff_text import measured_on_staff, rendered_on_staff
from game.engraving.layout import lay_out_line
from game.engraving.staff import Staff, StaffView
from game.music.passage import Passage
from game.music.written import HeadId
from game.screens.context import ScreenContext
from game.screens.reading.music_view import ENGRAVED_FACES, LOWEST_LINE, Colours
from game.screens.reading.scroll_animation import ScrollAnimation

_READING_MARK_AT = 1 / 3
# What must lie ahead of the reading mark, whatever the tempo: the eyes are about a second before the hands (Furneaux
# & Land 1999), and a bar shows the beat.
AHEAD_S = 1.3
_SMALLEST_SHARE = 0.6


class ScrollingMusic:
    """One endless line. In untimed stages it waits and glides on with the player, in time it goes with the clock, and
    at least `ahead_quarters` of music, in quarter notes, are in sight ahead of the reading mark.
    """

    covered = False

    def __init__(
        self, context: ScreenContext, passage: Passage, area: pygame.Rect, *, ahead_quarters: float = 0.0
    ) -> None:
        self._context, self._passage, self._area = context, passage, area
        self._animation = ScrollAnimation()
        self._head: HeadId | None = None
        self._position: float | None = None
        self._least_ahead_quarters = ahead_quarters
        self.engrave()

    def engrave(self) -> None:
        passage, face = self._passage, ENGRAVED_FACES[self._context.settings.music_face]
        self._engraving = lay_out_line(
            passage.bars, passage.reading, face, final_barline=passage.ends_tune, measure=measured_on_staff
        )
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
            self._animation = ScrollAnimation()
            self._animation.jump_to(self._staff.rect_of(self._head).centerx - self._reading_x)

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
        self._animation.glide_to(self._staff.rect_of(head).centerx - self._reading_x, now_s)

    def follow(self, position_quarters: float) -> None:
        self._position = position_quarters

    def scroll_at(self, now_s: float) -> float:
        """How far the staff has moved, in pixels."""
        if self._position is not None:
            return self._staff.x_at(self._position) - self._reading_x
        return self._animation.position_at(now_s)

    def moving(self, now_s: float) -> bool:
        return self._position is not None or self._animation.moving(now_s)

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
            bottom_line_y=view.top_line_y + staff.step_y(LOWEST_LINE),
            space_px=staff.space_px,
            step_y=lambda step: view.top_line_y + staff.step_y(step),
        )
