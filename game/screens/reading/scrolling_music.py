"""One endless line that moves under a still reading mark."""

from collections.abc import Mapping, Sequence
from functools import lru_cache

import pygame

from game.desk import pencil
from game.desk.count_drawing import Count, count_px, draw_count_row
from game.desk.mark_drawing import PencilLayer
from game.desk.mark_lanes import LaneType, LineInSight, NoteBox, PencilLane
from game.desk.part_in_view import Followed
from game.desk.staff_text import measured_on_staff, rendered_on_staff
from game.engraving.above_staff import NO_NUMERALS
from game.engraving.layout import lay_out_line
from game.engraving.staff import Staff, StaffView
from game.music.passage import Passage
from game.music.written import HeadId
from game.practice.pencilled import PlacedMark
from game.screens.context import ScreenContext
from game.screens.reading.music_view import ENGRAVED_FACES, Colours
from game.screens.reading.scroll_animation import ScrollAnimation

# The reading mark stands so many units from the left, where that is no larger share of the way.
_READING_MARK_UNITS, _READING_MARK_AT = 404.0, 0.45
# How far down its area the staff stands, where that can be: with the click, and where it waits.
_IN_TIME_AT, _WAITING_AT = 0.33, 0.36
# What must lie ahead of the reading mark, whatever the tempo: the eyes are about a second before the hands (Furneaux
# & Land 1999), and a bar shows the beat.
AHEAD_S = 1.3
_SMALLEST_SHARE = 0.6
# Rows of marks below the staff, where there is room for them; by the click fewer do, and the reading mark is nearer to
# the staff, more so where nothing is pencilled before the end. The length of a tick of the reading mark, and how far it
# stays away from the music, in staff spaces.
_ROWS_WANTED, _ROWS_IN_TIME = 3, 2
_TICK_SPACES, _TICK_AWAY_SPACES = 1.4, 0.4
_COUNT_UNITS = 26.0
# How much of the music is seen beside the reading mark where not all of it is, in staff spaces.
_BEFORE_MARK, _LEAST_AFTER_MARK = 5.0, 12.0


class ScrollingMusic:
    """One endless line. In untimed stages it waits and glides on with the player, in time it goes with the clock, and
    at least `ahead_quarters` of music, in quarter notes, are in sight ahead of the reading mark. `numerals` are the
    positions of the hand, by notehead.
    """

    covered = False

    def __init__(
        self,
        context: ScreenContext,
        passage: Passage,
        area: pygame.Rect,
        *,
        ahead_quarters: float = 0.0,
        numerals: Mapping[HeadId, str] = NO_NUMERALS,
    ) -> None:
        self._context, self._passage, self._area = context, passage, area
        self._numerals = numerals
        self._animation = ScrollAnimation()
        self._head: HeadId | None = None
        self._position: float | None = None
        self._least_ahead_quarters = ahead_quarters
        self.engrave()

    def engrave(self) -> None:
        passage, face = self._passage, ENGRAVED_FACES[self._context.settings.music_face]
        # By the staff space: it is asked for in every frame.
        self._widest_ahead: dict[int, float] = {}
        self._engraving = lay_out_line(
            passage.bars,
            passage.reading,
            face,
            final_barline=passage.ends_tune,
            measure=measured_on_staff,
            numerals=self._numerals,
        )
        self.fit(self._area)

    def fit(self, area: pygame.Rect) -> None:
        self._area = area
        theme = self._context.theme
        wanted = self._context.sheet.staff_space(self._context.settings.staff_space_px)
        self._staff = Staff(self._engraving, wanted, theme.paper, theme.ink, rendered_on_staff)
        while not (self._enough_ahead() and self._high_enough()) and self._staff.space_px > wanted * _SMALLEST_SHARE:
            self._staff.resize(self._staff.space_px - 1)
        self._pencil = self._pencil_now()
        self._view = StaffView(area, self._top_line_y, 0)
        if self._head is not None:
            self._animation = ScrollAnimation()
            self._animation.jump_to(self._staff.rect_of(self._head).centerx - self._reading_x)

    def _enough_ahead(self) -> bool:
        return self._area.width - self._reading_x >= self._ahead_px

    def _high_enough(self) -> bool:
        """Whether the staff, a row of marks and the reading mark fit one above the other."""
        staff = self._staff
        needed = (
            staff.above_px
            + staff.below_px
            + self._lane_type.height_px(self._least_rows)
            + 2 * self._tick_px
            + self._count_px
        )
        return needed <= self._area.height

    @property
    def _count_px(self) -> int:
        """The room of the count below the reading mark, where there is a click to count."""
        return count_px(self._count_type_px) if self._least_ahead_quarters else 0

    @property
    def _count_type_px(self) -> int:
        """It is seen from the corner of the eye."""
        return self._context.sheet.px(_COUNT_UNITS)

    @property
    def _tick_px(self) -> int:
        """What one tick of the reading mark takes, with its distance from the music."""
        return round((_TICK_SPACES + _TICK_AWAY_SPACES) * self._staff.space_px)

    @property
    def _rows_wanted(self) -> int:
        if not self._least_ahead_quarters:
            return _ROWS_WANTED
        return _ROWS_IN_TIME if self._context.settings.marks_in_take else 1

    @property
    def _least_rows(self) -> int:
        """So many rows there must be, however small the staff."""
        return 0 if self._least_ahead_quarters and not self._context.settings.marks_in_take else 1

    @property
    def _lane_type(self) -> LaneType:
        return LaneType.of(self._staff.space_px, self._context.sheet.mark_px)

    def _pencil_now(self) -> PencilLayer:
        """The pencil for the staff as it is now."""
        staff, lane_type = self._staff, self._lane_type
        room = self._area.bottom - self._top_line_y - staff.below_px - self._tick_px - self._count_px
        self._rows = min(self._rows_wanted, lane_type.rows_in(room))
        if room < lane_type.height_px(self._rows):
            self._rows = self._least_rows

        @lru_cache(maxsize=1)
        def lane_of(_: int) -> PencilLane:
            return PencilLane(
                top=staff.below_px + lane_type.drop_px,
                rows=self._rows,
                left=0,
                right=staff.width_px,
                printed=tuple(staff.print_rects()),
            )

        def note_at(head: HeadId) -> tuple[int, NoteBox]:
            return 0, NoteBox(
                head=staff.rect_of(head),
                group=staff.group_rect_of(head),
                bottom_line_y=staff.bottom_line_y,
                space_px=staff.space_px,
                step_y=staff.step_y,
            )

        return PencilLayer(note_at, lane_of, lane_type, self._context.settings.note_names)

    @property
    def _ahead_px(self) -> float:
        """How wide the least music ahead is where it is widest."""
        least = self._least_ahead_quarters
        if not least:
            return 0.0
        if self._staff.space_px in self._widest_ahead:
            return self._widest_ahead[self._staff.space_px]
        length = float(sum(bar.length for bar in self._passage.bars))
        starts = [step * 0.5 for step in range(int(max(0.0, length - least) * 2) + 1)]
        widest = max(self._staff.x_at(start + least) - self._staff.x_at(start) for start in starts)
        self._widest_ahead[self._staff.space_px] = widest
        return widest

    @property
    def _reading_x(self) -> float:
        """The reading mark, in pixels from the left of the area: nearer the clef in fast music."""
        clear_of_clef = self._staff.opening_px + 3.5 * self._staff.space_px
        wanted = min(self._context.sheet.px(_READING_MARK_UNITS), self._area.width * _READING_MARK_AT)
        usual = max(wanted, clear_of_clef)
        return min(usual, max(clear_of_clef, self._area.width - self._ahead_px))

    @property
    def _top_line_y(self) -> int:
        """The staff stands a third down its area, moved where high or low notes need the room."""
        area, staff = self._area, self._staff
        wanted = area.top + round(area.height * (_IN_TIME_AT if self._least_ahead_quarters else _WAITING_AT))
        highest = area.top + staff.above_px + self._tick_px
        lane_px = self._lane_type.height_px(self._rows_wanted)
        lowest = area.bottom - staff.below_px - lane_px - self._tick_px - self._count_px
        return max(highest, min(wanted, lowest))

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
        for y, seed in ((self._upper_tick_y, 5), (self._lower_tick_y, 6)):
            tick = pencil.line(_TICK_SPACES * space, max(2.2, space * 0.15), theme.pencil, seed, upright=True)
            surface.blit(tick, tick.get_rect(midtop=(x, y)))

    @property
    def _upper_tick_y(self) -> float:
        """It keeps away from the notes and from the chord symbols above them."""
        above = max(5.2 * self._staff.space_px, self._staff.above_px + self._tick_px)
        return max(self._area.top, self._view.top_line_y - above)

    @property
    def _lower_tick_y(self) -> float:
        """Marks pass between the staff and the lower tick; the count stands below it."""
        space = self._staff.space_px
        lane_px = self._lane_type.height_px(self._rows) + _TICK_AWAY_SPACES * space
        below = self._view.top_line_y + self._staff.below_px + lane_px
        return min(below, self._area.bottom - _TICK_SPACES * space - self._count_px)

    def draw_count(self, surface: pygame.Surface, count: Count) -> None:
        """Below the reading mark, with the bar's other beats at its sides."""
        y = self._lower_tick_y + _TICK_SPACES * self._staff.space_px + self._count_px // 2
        centre = round(self._area.left + self._reading_x), round(y)
        draw_count_row(surface, count, centre, self._count_type_px, self._context.theme)

    def draw_marks(self, surface: pygame.Surface, marks: Sequence[PlacedMark]) -> None:
        scrolled = self._view.scroll_px
        # The pencil does not write on the clef.
        seen = LineInSight(
            dx=self._area.left - scrolled,
            dy=self._view.top_line_y,
            left=scrolled + self._staff.opening_px,
            right=scrolled + self._area.width,
        )
        self._pencil.draw(surface, marks, lambda _: seen, self._context.theme)

    @property
    def followed(self) -> Followed:
        """The reading mark, what is ahead of it, and the count."""
        space, x = self._staff.space_px, self._area.left + round(self._reading_x)
        # Where one note a click is read there is a count, too, though no room is kept for it.
        count = self._count_px or (count_px(self._count_type_px) // 2 if self._position is not None else 0)
        top, bottom = round(self._upper_tick_y), round(self._lower_tick_y + _TICK_SPACES * space) + count
        left, core_right = x - round(_BEFORE_MARK * space), x + round(_LEAST_AFTER_MARK * space)
        most = pygame.Rect(left, top, self._area.right - left, bottom - top)
        return Followed(most, pygame.Rect(left, top, core_right - left, bottom - top))

    @property
    def lowest_px(self) -> int:
        return self._area.bottom

    def note_box(self, head: HeadId) -> NoteBox | None:
        staff, view = self._staff, self._view
        place = staff.on_screen(staff.rect_of(head), view)
        if not view.area.left + staff.opening_px < place.centerx < view.area.right:
            return None
        return NoteBox(
            head=place,
            group=staff.on_screen(staff.group_rect_of(head), view),
            bottom_line_y=view.top_line_y + staff.bottom_line_y,
            space_px=staff.space_px,
            step_y=lambda step: view.top_line_y + staff.step_y(step),
        )
