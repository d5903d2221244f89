"""Days of practice from left to right: first sight and notes a second, with where each surely lies, and minutes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil

import pygame

from game.desk.paper import draw_text, draw_text_right
from game.desk.sheet import Sheet
from game.desk.theme import Theme
from game.desk.typography import Face
from game.practice_log.queries.figure_records import DayFigures
from game.screens.progress.progress_figures import DAYS_SHOWN
from game.text.catalogue import say

_HALF = 0.5

Measure = Callable[[DayFigures], tuple[float, tuple[float, float]] | None]
"""What is shown of a day: the value and its interval, None where the day tells nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysDrawing:
    """At most `DAYS_SHOWN` days, the oldest first."""

    days: Sequence[DayFigures]
    sheet: Sheet
    theme: Theme

    def draw(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        """Three rows, one above the other, over the same days."""
        gap = self.sheet.px(12)
        height = (room.height - 2 * gap) // 3
        rows = [pygame.Rect(room.left, room.top + n * (height + gap), room.width, height) for n in range(3)]
        shares = [told[1][0] for told in map(_sight, self.days) if told]
        least = _HALF if min(shares, default=1.0) >= _HALF else 0.0
        bounds = say("progress.shares", low=least, high=1.0)
        self._dots(surface, rows[0], (say("progress.sight"), bounds), _sight, (least, 1.0))
        most = max([1, *(ceil(told[1][1]) for told in map(_pace, self.days) if told)])
        bounds = say("progress.from_to", low=0, high=most)
        self._dots(surface, rows[1], (say("progress.pace"), bounds), _pace, (0.0, float(most)))
        self._bars(surface, rows[2])

    def _dots(
        self,
        surface: pygame.Surface,
        room: pygame.Rect,
        words: tuple[str, str],
        measure: Measure,
        bounds: tuple[float, float],
    ) -> None:
        """A row of values between two lines that stand for `bounds`. `words` are what it is, and the bounds."""
        sheet, theme = self.sheet, self.theme
        plot = self._below_words(surface, room, words)
        low, high = bounds

        def y_of(value: float) -> float:
            return plot.bottom - (min(max(value, low), high) - low) / (high - low) * plot.height

        for value in bounds:
            pygame.draw.line(surface, theme.edge, (plot.left, y_of(value)), (plot.right, y_of(value)), 1)
        for x, day in self._places(plot):
            told = measure(day)
            if told is not None:
                value, (least, most) = told
                thick = max(1, sheet.px(2))
                pygame.draw.line(surface, theme.pencil, (x, y_of(least)), (x, y_of(most)), thick)
                pygame.draw.circle(surface, theme.read, (x, y_of(value)), max(2.5, sheet.px(4)))

    def _bars(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        theme, days = self.theme, self.days
        most = max(1, ceil(max(day.minutes for day in days)))
        words = say("progress.minutes", first=days[0].day, last=days[-1].day)
        plot = self._below_words(surface, room, (words, say("progress.from_to", low=0, high=most)))
        half = room.width / DAYS_SHOWN * 0.3
        for x, day in self._places(plot):
            height = max(1, round(plot.height * day.minutes / most))
            surface.fill(theme.faded, pygame.Rect(round(x - half), plot.bottom - height, round(2 * half), height))

    def _below_words(self, surface: pygame.Surface, room: pygame.Rect, words: tuple[str, str]) -> pygame.Rect:
        """Set words at the left and the right; what room is left below them."""
        sheet, theme = self.sheet, self.theme
        left, right = words
        draw_text(surface, left, room.topleft, Face.ITALIC, sheet.small_px, theme.faded)
        draw_text_right(surface, right, room.topright, Face.FIGURES, sheet.small_px, theme.faded)
        height = sheet.px(30)
        return pygame.Rect(room.left, room.top + height, room.width, room.height - height)

    def _places(self, plot: pygame.Rect) -> list[tuple[float, DayFigures]]:
        """Where each day stands."""
        step = plot.width / DAYS_SHOWN
        return [(plot.left + (index + 0.5) * step, day) for index, day in enumerate(self.days)]


def _sight(day: DayFigures) -> tuple[float, tuple[float, float]] | None:
    return None if day.share is None else (day.share, day.interval)


def _pace(day: DayFigures) -> tuple[float, tuple[float, float]] | None:
    pace, interval = day.notes_a_second, day.pace_interval
    return None if pace is None or interval is None else (pace, interval)
