"""The music as it is notated, with its repeats, endings and jumps, for reading at first sight.

A note that is played twice stands once on the page. Until it is turned up the page is covered.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import accumulate

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.turned_up import TURN_UP_S, draw_turned_up
from game.desk.mark_lanes import NoteBox
from game.desk.theme import Colour
from game.engraving.above_staff import NO_NUMERALS
from game.music.order import order_of_play
from game.music.order_choices import with_brackets_read
from game.music.passage import whole_tune
from game.music.score import Score
from game.music.written import HeadId
from game.practice.pencilled import PlacedMark
from game.screens.context import ScreenContext
from game.screens.reading.sight_sheet import COVER_FOOT
from game.screens.reading.still_music import BARS_AHEAD, EYES_AHEAD_QUARTERS, StillMusic, bar_at


class NotatedMusic(StillMusic):
    """The still page of a score with its signs. Heads and times are those of the music written out, as everywhere.
    Nothing is pencilled on it before the end, so its lines stand closer. The `numerals` are by noteheads of the page.
    """

    _marked = False
    _least_lines = 3
    # In the wide margin there is room for a count that is seen from the corner of the eye.
    _count_size = 1.55

    def __init__(
        self, context: ScreenContext, score: Score, area: pygame.Rect, *, numerals: Mapping[HeadId, str] = NO_NUMERALS
    ) -> None:
        self.covered = True
        self.turned_up_s: float | None = None
        self._played = -1
        self._order = order_of_play(score.bars)
        self._played_until = tuple(accumulate(float(score.bars[index].length) for index in self._order))
        page = whole_tune(replace(score, bars=with_brackets_read(score.bars)))
        super().__init__(context, page, area, numerals=numerals)

    def _on_page(self, head: HeadId) -> HeadId:
        return HeadId(self._order[head.bar], head.event)

    def look_at(self, head: HeadId, now_s: float) -> None:
        self._played = head.bar
        super().look_at(self._on_page(head), now_s)

    def _bar_at(self, position_quarters: float) -> tuple[int, float]:
        played, share = bar_at(self._played_until, position_quarters)
        return self._order[played], share

    def follow(self, position_quarters: float) -> None:
        self._eyes = self._bar_at(max(0.0, position_quarters + EYES_AHEAD_QUARTERS))
        played = next((at for at, until in enumerate(self._played_until) if position_quarters < until), None)
        self._played = len(self._order) if played is None else played
        if position_quarters < 0:
            self._played = self._bar = -1
        else:
            self._bar = len(self._passage.bars) if played is None else self._order[played]
        self._turn()

    def _bars_ahead(self) -> Sequence[int]:
        return self._order[self._played + 1 : self._played + 1 + BARS_AHEAD]

    def moving(self, now_s: float) -> bool:
        return not self.covered and self.turned_up(now_s) < 1

    def turned_up(self, now_s: float) -> float:
        """How far the page is turned up, 0 to 1: by and by from `turned_up_s` on, and at once where that is None."""
        if self.covered:
            return 0.0
        return 1.0 if self.turned_up_s is None else min(1.0, (now_s - self.turned_up_s) / TURN_UP_S)

    def draw(self, surface: pygame.Surface, colours: Mapping[HeadId, Colour], now_s: float) -> None:
        share = self.turned_up(now_s)
        if not self.covered:
            super().draw(surface, {self._on_page(head): colour for head, colour in colours.items()}, now_s)
        if share < 1:
            self._draw_cover(surface, share)

    def _draw_cover(self, surface: pygame.Surface, share: float) -> None:
        """The page lies face down, or is being turned up; below it stands how that is done."""
        canvas = Canvas(surface, self._context.sheet, self._context.theme)
        cover = self._area.copy()
        cover.left = self._context.sheet.text_area.left
        cover.width = self._context.sheet.text_area.right - cover.left
        cover.height = min(cover.height, surface.get_height() - canvas.px(COVER_FOOT) - cover.top)
        surface.set_clip(None)
        draw_turned_up(canvas, cover, share)

    def draw_marks(self, surface: pygame.Surface, marks: Sequence[PlacedMark]) -> None:
        if not self.covered:
            super().draw_marks(surface, [PlacedMark(self._on_page(placed.head), placed.mark) for placed in marks])

    def note_box(self, head: HeadId) -> NoteBox | None:
        return None if self.covered else super().note_box(self._on_page(head))
