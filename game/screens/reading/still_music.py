"""Lines that stand still: no cursor moves over them."""

from collections.abc import Iterator, Mapping, Sequence

import pygame

from game.desk import pencil
from game.desk.count_drawing import Count, draw_count
from game.desk.kit.canvas import Canvas
from game.desk.kit.cover import draw_cover
from game.desk.mark_lanes import LaneType, LineInSight, NoteBox
from game.desk.part_in_view import Followed
from game.desk.staff_text import measured_on_staff, rendered_on_staff
from game.engraving.above_staff import NO_NUMERALS
from game.engraving.layout import lay_out_page
from game.engraving.still_page import StillPage
from game.music.passage import Passage
from game.music.written import HeadId
from game.practice.pencilled import PlacedMark
from game.screens.context import ScreenContext
from game.screens.reading.lines_in_sight import Rows, turned
from game.screens.reading.music_view import ENGRAVED_FACES, Colours
from game.screens.reading.page_lanes import moved, note_box_on, pencil_on, print_of, whole_line

# The line being read and the next: for so many the music is set smaller than wished, down to this share. Where there
# is not room for two even so, as over a neck, one is set as large as it can be.
_LEAST_LINES = 2
_SMALLEST_SHARE, _SMALLEST_SPACE_PX = 0.6, 9
# Between lines, in staff spaces, and how far few lines are spread at most.
_BETWEEN, _WIDEST_SPREAD = 0.5, 1.4
# So many bars ahead are in sight, where the page is so long.
BARS_AHEAD = 2
# The eyes are about a beat before the hands. Where not all of a line is seen, it is what is so many staff spaces before
# and after them, and at its beginning the margin with the count.
EYES_AHEAD_QUARTERS = 1.0
_BEFORE_EYES, _AHEAD_OF_EYES, _MARGIN = 3, 15, 3


class StillMusic:
    """Lines of about four bars, as many as the area holds. Where there are more, those that have been left are replaced
    at the last bar but one in sight.

    No cursor moves; a pencil tick at the bar line says that a bar has been left. With `slip` a slip of paper covers the
    bar being played, so that the eyes must go ahead. `numerals` are the positions of the hand, by notehead.
    """

    covered = False
    _marked = True
    _least_lines = _LEAST_LINES
    _count_size = 1.0

    def __init__(
        self,
        context: ScreenContext,
        passage: Passage,
        area: pygame.Rect,
        *,
        slip: bool = False,
        numerals: Mapping[HeadId, str] = NO_NUMERALS,
    ) -> None:
        self._context, self._passage, self._area = context, passage, area
        self._numerals = numerals
        self.slip = slip
        self._bar = -1
        self._eyes = 0, 0.0
        self._ends = _bar_ends(passage)
        self.engrave()

    def engrave(self) -> None:
        self.fit(self._area)

    def fit(self, area: pygame.Rect) -> None:
        self._area = area
        wanted = self._context.sheet.staff_space(self._context.settings.staff_space_px)
        if not self._found(self._least_lines, wanted, round(wanted * _SMALLEST_SHARE)):
            self._found(1, wanted, _SMALLEST_SPACE_PX)
        self._lay_lines()
        self._turn()

    def _found(self, lines: int, wanted: int, smallest: int) -> bool:
        """Engrave at the largest size at which so many lines fit, or all there are; whether there is one."""
        space_px: int | None = wanted
        while space_px is not None:
            self._engrave_at(space_px)
            least = min(lines, len(self._page.lines))
            if self._area.height + self._between_px >= least * self._least_pitch:
                return True
            # What a line takes hardly depends on its size: only sizes that promise to fit are engraved.
            promising = (px for px in range(space_px - 1, smallest - 1, -1) if self._promises(px, least))
            space_px = next(promising, None)
        return False

    def _promises(self, space_px: int, lines: int) -> bool:
        type_px = LaneType.of(space_px, self._context.sheet.mark_px).height_px(1) if self._marked else 0
        print_px = (max(self._above) + max(self._below)) * space_px / self._page.space_px
        pitch = print_px + type_px + _BETWEEN * space_px
        return self._area.height + _BETWEEN * space_px >= lines * (pitch - 2)

    def _engrave_at(self, space_px: int) -> None:
        """Engrave at a size, and see how much a line takes and how many fit."""
        settings, passage = self._context.settings, self._passage
        self._type = LaneType.of(space_px, self._context.sheet.mark_px)
        self._engraving = lay_out_page(
            passage.bars,
            passage.reading,
            self._area.width / space_px,
            ENGRAVED_FACES[settings.music_face],
            final_barline=passage.ends_tune,
            measure=measured_on_staff,
            numerals=self._numerals,
        )
        self._page = self._drawn_at(space_px)
        prints = [print_of(self._page, line) for line in range(len(self._page.lines))]
        tops = [line.top_line_y for line in self._page.lines]
        self._above = [top - room.top for top, room in zip(tops, prints, strict=True)]
        self._below = [room.bottom - top for top, room in zip(tops, prints, strict=True)]
        lane_px = self._type.height_px(1) if self._marked else 0
        self._least_pitch = max(self._above) + max(self._below) + lane_px + self._between_px
        fitting = (self._area.height + self._between_px) // self._least_pitch
        self._row_count = max(1, min(len(tops), fitting))

    @property
    def _between_px(self) -> int:
        """Between the room of one line and the next."""
        return round(_BETWEEN * self._page.space_px)

    def _lay_lines(self) -> None:
        """The staves stand at even distances; what is left below each is the pencil's."""
        space_px, rows = self._page.space_px, self._row_count
        widest = _WIDEST_SPREAD if rows == len(self._page.lines) else float("inf")
        self._pitch = int(min((self._area.height + self._between_px) / rows, widest * self._least_pitch))
        spare = self._area.height + self._between_px - rows * self._pitch
        self._first_y = self._area.top + max(0, spare) // 2
        free = [self._pitch - max(self._above) - below - self._between_px for below in self._below]
        self._page = self._drawn_at(space_px, [max(0, room) / space_px for room in free])
        lanes = [self._type.rows_in(room) for room in free]
        self._pencil = pencil_on(self._page, lanes, self._type, self._context.settings.note_names)
        self._printed = [list(line.print_rects()) for line in self._page.lines]
        self._shown: Rows = ()

    def _drawn_at(self, space_px: int, below: Sequence[float] = ()) -> StillPage:
        theme = self._context.theme
        return StillPage(self._engraving, space_px, theme.paper, theme.ink, rendered_on_staff, below=below)

    def look_at(self, head: HeadId, now_s: float) -> None:  # noqa: ARG002 - part of the interface
        self._bar = head.bar
        self._eyes = head.bar, 0.0
        self._turn()

    def follow(self, position_quarters: float) -> None:
        self._eyes = self._bar_at(max(0.0, position_quarters + EYES_AHEAD_QUARTERS))
        self._bar = next((i for i, end in enumerate(self._ends) if position_quarters < end), len(self._ends))
        if position_quarters < 0:
            self._bar = -1
        self._turn()

    def moving(self, now_s: float) -> bool:  # noqa: ARG002
        return False

    def _bar_at(self, position_quarters: float) -> tuple[int, float]:
        """The bar on the page at a moment, and how much of it is over then."""
        return bar_at(self._ends, position_quarters)

    @property
    def followed(self) -> Followed:
        """The line being read, and of it the next bars from where the eyes are."""
        bar, share = self._eyes
        line = self._line_of_bar(bar)
        down = self._down(line)
        if down is None:
            line = next((one for one in self._shown if one is not None), 0)
            down, bar, share = self._down(line) or 0, self._page.lines[line].bars[0], 0.0
        page_line, space = self._page.lines[line], self._page.space_px
        top, height = page_line.top_line_y - self._above[line] + down, self._above[line] + self._below[line]
        begins, ends = page_line.bar_span(bar)
        left, right = self._area.left + round(begins + (ends - begins) * share), self._area.right
        eyes = left - _BEFORE_EYES * space if bar > page_line.bars[0] else self._area.left - _MARGIN * space
        core = pygame.Rect(round(eyes), top, min(right, left + _AHEAD_OF_EYES * space) - round(eyes), height)
        most = pygame.Rect(self._area.left - _MARGIN * space, top, self._area.width + _MARGIN * space, height)
        return Followed(most, core, turns=True)

    def _line_of_bar(self, bar: int) -> int:
        lines = self._page.lines
        return next((i for i, line in enumerate(lines) if bar <= line.bars[-1]), len(lines) - 1)

    def _bars_ahead(self) -> Sequence[int]:
        """The bars that are played after the one being read."""
        return range(self._bar + 1, min(self._bar + 1 + BARS_AHEAD, len(self._passage.bars)))

    def _turn(self) -> None:
        ahead = [self._line_of_bar(bar) for bar in self._bars_ahead()]
        reading = self._line_of_bar(self._bar)
        begun = self._bar == self._page.lines[reading].bars[0]
        self._shown = turned(self._shown, self._row_count, len(self._page.lines), reading, ahead, just_begun=begun)

    def _down(self, line: int) -> int | None:
        """How far the page is moved down for a line, None where it is not in sight."""
        if line not in self._shown:
            return None
        staff_y = self._first_y + self._shown.index(line) * self._pitch + max(self._above)
        return staff_y - self._page.lines[line].top_line_y

    def _in_sight(self) -> Iterator[tuple[int, int]]:
        """Lines in sight, with how far the page is moved down for each."""
        for line in self._shown:
            down = None if line is None else self._down(line)
            if line is not None and down is not None:
                yield line, down

    def draw(self, surface: pygame.Surface, colours: Colours, now_s: float) -> None:  # noqa: ARG002
        surface.fill(self._context.theme.paper, self._area)
        for line, down in self._in_sight():
            top = self._page.lines[line].top_line_y - self._above[line]
            height = self._pitch - max(self._above) + self._above[line]
            room = pygame.Rect(self._area.left, top + down, self._area.width, height)
            self._page.draw(surface, room, colours, top)
            self._draw_bars(surface, line, down)

    def _draw_bars(self, surface: pygame.Surface, line: int, down: int) -> None:
        theme, space = self._context.theme, self._page.space_px
        for bar in self._page.lines[line].bars:
            if bar < self._bar:
                tick = pencil.line(0.9 * space, max(1.6, space * 0.11), theme.pencil, bar % 7, upright=True)
                surface.blit(tick, self._tick_rect(line, bar, tick).move(self._area.left, down))
            elif bar == self._bar and self.slip:
                slip = self._slip_over(line, bar).move(self._area.left, down)
                draw_cover(Canvas(surface, self._context.sheet, theme), slip)

    def _slip_over(self, line: int, bar: int) -> pygame.Rect:
        """What it covers of a bar, on the page: all that is printed in it, but no clef, key or metre before it."""
        page_line, space = self._page.lines[line], self._page.space_px
        left, right = page_line.bar_span(bar)
        heads = [head for note in self._passage.notes for head in note.heads if head.bar == bar]
        if heads and bar == page_line.bars[0]:
            left = max(left, self._page.group_rect_of(heads[0]).left - space // 2)
        staff = pygame.Rect(left, page_line.top_line_y - space, right - left, 6 * space)
        printed = [sign for sign in self._printed[line] if left <= sign.left and sign.right <= right + space]
        whole = staff.unionall(printed).inflate(0, space)
        return pygame.Rect(left, whole.top, right - left - 1, whole.height)

    def _tick_rect(self, line: int, bar: int, tick: pygame.Surface) -> pygame.Rect:
        """A tick stands over its bar line, or under it where words or an ending stand over it."""
        page_line, space = self._page.lines[line], self._page.space_px
        right = page_line.bar_span(bar)[1]
        over = tick.get_rect(midbottom=(right, page_line.top_line_y - 0.35 * space))
        if over.collidelist(self._printed[line]) < 0:
            return over
        return tick.get_rect(midtop=(right, self._page.bottom_line_y(line) + 0.35 * space))

    def draw_marks(self, surface: pygame.Surface, marks: Sequence[PlacedMark]) -> None:
        self._pencil.draw(surface, marks, self._line_in_sight, self._context.theme)

    def _line_in_sight(self, line: int) -> LineInSight | None:
        down = self._down(line)
        return None if down is None else whole_line(self._page, self._area.left, down)

    def draw_count(self, surface: pygame.Surface, count: Count) -> None:
        """In the margin, beside the line being read."""
        down = self._down(self._line_of_bar(self._bar))
        if down is not None:
            line = self._page.lines[self._line_of_bar(self._bar)]
            middle = line.top_line_y + 2 * self._page.space_px + down
            x = (self._context.sheet.paper.left + self._area.left) // 2
            draw_count(
                surface, count, (x, middle), round(self._count_size * self._context.sheet.mark_px), self._context.theme
            )

    def first_row_of(self, head: HeadId) -> pygame.Rect | None:
        """Where the first mark under a note has its room, in the window; None where the note is out of sight."""
        line = self._page.line_of(head)
        down = self._down(line)
        if down is None:
            return None
        top = print_of(self._page, line).bottom + self._type.drop_px
        room = pygame.Rect(0, top + down, self._type.row_px, self._type.row_px)
        room.centerx = self._page.rect_of(head).centerx + self._area.left
        return room

    @property
    def lowest_px(self) -> int:
        return max(
            (print_of(self._page, line).bottom + down for line, down in self._in_sight()), default=self._area.top
        )

    def note_box(self, head: HeadId) -> NoteBox | None:
        down = self._down(self._page.line_of(head))
        return None if down is None else moved(note_box_on(self._page, head), self._area.left, down)


def bar_at(ends: Sequence[float], position_quarters: float) -> tuple[int, float]:
    """The bar at a moment, by where each ends, and how much of it is over; later than all, the last at its end."""
    index = next((at for at, end in enumerate(ends) if position_quarters < end), None)
    if index is None:
        return len(ends) - 1, 1.0
    begins = ends[index - 1] if index else 0.0
    return index, (position_quarters - begins) / (ends[index] - begins)


def _bar_ends(passage: Passage) -> tuple[float, ...]:
    """Where each bar ends, in quarter notes from the start."""
    ends, at = [], 0.0
    for bar in passage.bars:
        at += float(bar.length)
        ends.append(at)
    return tuple(ends)
