"""A draft as music on the page: lines one below the other, the one with the pencil always in sight."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

import pygame

from game.desk.mark_lanes import NoteBox
from game.desk.staff_text import rendered_on_staff
from game.desk.theme import Colour
from game.engraving.layout import lay_out_page
from game.engraving.still_page import StillPage
from game.music.score import Bar
from game.music.written import HeadId
from game.screens.context import ScreenContext
from game.screens.reading.music_view import ENGRAVED_FACES
from game.tunes.entering.draft import Draft
from game.tunes.entering.draft_score import DraftPage, draft_page

_SMALLEST_SPACE_PX = 9


class DraftMusic:
    """Engraves a draft when it has changed, and draws as many lines of it as there is room for."""

    def __init__(self, context: ScreenContext, area: pygame.Rect) -> None:
        self._context, self._area = context, area
        self._shown = Draft()
        self._pitch: int | None = None
        self._turned_to: int | None = None
        self._engraved: tuple[DraftPage | None, StillPage] | None = None

    def show(self, draft: Draft, area: pygame.Rect) -> None:
        """The draft as it is now, in an area. It is engraved when it is looked at next, if it has changed."""
        draft = replace(draft, title="", composer="", tempo_bpm=0, kept_as="")
        if draft != self._shown or area != self._area:
            self._shown, self._area = draft, area
            self.forget()

    def forget(self) -> None:
        """The look was changed: it is engraved anew."""
        self._engraved = None

    def _laid_out(self) -> tuple[DraftPage | None, StillPage]:
        """The page and its picture, None for the page of an empty staff."""
        if self._engraved is None:
            page = draft_page(self._shown) if self._shown.pitches else None
            self._engraved = page, self._picture_of(page.score.bars if page else (_empty(self._shown),))
        return self._engraved

    @property
    def _page(self) -> DraftPage | None:
        return self._laid_out()[0]

    @property
    def _still(self) -> StillPage:
        return self._laid_out()[1]

    def _picture_of(self, bars: tuple[Bar, ...]) -> StillPage:
        settings, theme = self._context.settings, self._context.theme
        space_px = self._context.sheet.staff_space(settings.staff_space_px)
        while True:
            engraving = lay_out_page(
                bars,
                self._shown.reading,
                self._area.width / space_px,
                ENGRAVED_FACES[settings.music_face],
                final_barline=self._shown.complete,
            )
            still = StillPage(engraving, space_px, theme.paper, theme.ink, rendered_on_staff)
            tallest = max(line.band[1] - line.band[0] for line in still.lines)
            if tallest <= self._area.height or space_px <= _SMALLEST_SPACE_PX:
                return still
            space_px -= 1

    @property
    def space_px(self) -> int:
        """The distance of two lines of the staff."""
        return self._still.space_px

    def look_at(self, pitch: int | None, *, ahead: bool = False) -> None:
        """Bring the line of a pitch into sight; None for the last line. While the page is read `ahead` it stands still,
        and is turned when its last line is reached.
        """
        self._pitch = pitch
        if not ahead:
            self._turned_to = None
            return
        shown = tuple(self._rows())
        last_shown = shown[-1] == self._line and shown[-1] + 1 < len(self._still.lines)
        if self._turned_to is None or self._line not in shown or last_shown:
            self._turned_to = self._line

    @property
    def _line(self) -> int:
        head = self.head_of(self._pitch)
        return len(self._still.lines) - 1 if head is None else self._still.line_of(head)

    def head_of(self, pitch: int | None) -> HeadId | None:
        """The first notehead of a pitch, None where there is none."""
        page = self._page
        if page is None or pitch is None or not 0 <= pitch < len(page.heads):
            return None
        return page.heads[pitch][0]

    def coloured(self, pitches: Mapping[int, Colour]) -> dict[HeadId, Colour]:
        """Colours of pitches as those of all their noteheads."""
        heads = self._page.heads if self._page else ()
        return {head: colour for pitch, colour in pitches.items() for head in heads[pitch]}

    def _rows(self) -> dict[int, int]:
        """The lines in sight with the y of their tops: the one before the pencil's, if that leaves it room, and on."""
        lines = self._still.lines
        heights = [line.band[1] - line.band[0] for line in lines]
        line = self._line
        first = max(0, line - 1) if sum(heights[max(0, line - 1) : line + 1]) <= self._area.height else line
        if self._turned_to is not None:
            first = min(self._turned_to, line)
        while first and sum(heights[first - 1 :]) <= self._area.height:
            first -= 1
        rows: dict[int, int] = {}
        y = self._area.top
        for index in range(first, len(lines)):
            if y + heights[index] > self._area.bottom and rows:
                break
            rows[index] = y
            y += heights[index]
        return rows

    def draw(self, surface: pygame.Surface, colours: Mapping[int, Colour]) -> None:
        """Draw what is in sight of it, pitches in their colours."""
        surface.fill(self._context.theme.paper, self._area)
        by_head = self.coloured(colours)
        for index, y in self._rows().items():
            band = self._still.lines[index].band
            place = pygame.Rect(self._area.left, y, self._area.width, band[1] - band[0])
            self._still.draw(surface, place, by_head, band[0])

    def box_of(self, pitch: int) -> NoteBox | None:
        """Where a pitch stands, None where it is out of sight."""
        head = self.head_of(pitch)
        line = None if head is None else self._still.line_of(head)
        top = None if line is None else self._rows().get(line)
        if head is None or line is None or top is None:
            return None
        dx, dy = self._area.left, top - self._still.lines[line].band[0]
        return NoteBox(
            head=self._still.rect_of(head).move(dx, dy),
            group=self._still.group_rect_of(head).move(dx, dy),
            bottom_line_y=self._still.bottom_line_y(line) + dy,
            space_px=self._still.space_px,
            step_y=lambda step: self._still.step_y(line, step) + dy,
        )

    def pitch_near(self, at: tuple[int, int]) -> int | None:
        """The pitch whose note is under a point."""
        for pitch in range(len(self._shown.pitches)):
            box = self.box_of(pitch)
            if box is not None and box.group.inflate(box.space_px, 2 * box.space_px).collidepoint(at):
                return pitch
        return None

    def staff_of_bar(self, bar: int) -> pygame.Rect | None:
        """The staff of a bar of the page, counted from 0 with the pickup bar; None where it is out of sight."""
        for index, y in self._rows().items():
            line = self._still.lines[index]
            if bar in line.bars:
                left, right = line.bar_span(bar)
                top = y + line.top_line_y - line.band[0]
                return pygame.Rect(self._area.left + left, top, right - left, 4 * self._still.space_px)
        return None


def _empty(draft: Draft) -> Bar:
    """A staff with nothing on it yet."""
    return Bar(number="1", meter=draft.meter, key=draft.key, length=Fraction(draft.meter.bar_length), events=())
