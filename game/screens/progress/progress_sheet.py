"""The picture of progress: three figures, and the chart of the one that is chosen. In units."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil, draw_ring
from game.desk.kit.canvas import Align, Canvas, Point, Style, blend
from game.desk.kit.fitted_line import fitted
from game.desk.kit.inked import draw_dot, draw_shape
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.typography import Face
from game.screens.progress.progress_chapters import Chapter, ChartCurve
from game.text.catalogue import on_day

_LEFT, _RIGHT_MARGIN, _FIGURES_TOP = 70.0, 68.0, 84.0
_FIGURE, _WORDS, _SENTENCE = 72.0, 27.0, 25.0
_CHART_LEFT, _CHART_TOP, _CHART_UP = 124.0, 314.0, 186.0
_DOT, _INSIDE, _BETWEEN_DAYS = 27.0, 20.0, 150.0
_FARTHEST: Final = 120.0
"""From a dot to the next where there are few, in units."""

_LEGEND_UP: Final = 133.0
"""From the lower edge of the window up to the baseline of the legend, above the words of the corner."""


@dataclass(frozen=True, slots=True)
class ProgressSheet:
    """Where things stand."""

    canvas: Canvas

    @property
    def _size(self) -> tuple[float, float]:
        width, height = self.canvas.sheet.size
        return width / self.canvas.sheet.unit, height / self.canvas.sheet.unit

    @property
    def _right(self) -> float:
        return self._size[0] - _RIGHT_MARGIN

    @property
    def _step(self) -> float:
        return (self._right - _LEFT) / 3

    def figure_rect(self, number: int) -> pygame.Rect:
        """The pixels of a figure with its words: a click on it opens its chapter."""
        return self.canvas.rect(_LEFT - 6 + number * self._step, _FIGURES_TOP, self._step - 8, 124)

    def draw_figure(self, number: int, chapter: Chapter, *, chosen: bool) -> None:
        """What it is, and how much; the chosen one is underlined in red."""
        theme, left = self.canvas.theme, _LEFT + number * self._step
        room = self._step - 20
        quiet = theme.ink if chosen else theme.faded
        title = Style(Face.TITLE if chosen else Face.TEXT, _WORDS, quiet)
        text, title = fitted(self.canvas, chapter.title, title, room)
        self.canvas.write(text, (left, 112), title)
        figure = Style(Face.FIGURES, _FIGURE, theme.read if chosen else blend(theme.read, theme.paper, 0.15))
        self.canvas.write(chapter.figure, (left, 182), figure)
        end = left + self.canvas.width_of(chapter.figure, figure) + 12
        unit, style = fitted(self.canvas, chapter.unit, Style(Face.TEXT, _WORDS, quiet), left + room - end)
        self.canvas.write(unit, (end, 182), style)
        if chosen:
            draw_pencil(self.canvas, [(left - 2, 202), (left + min(room, 272), 200)], 5, theme.accent, 8)

    def draw_words(self, chapter: Chapter) -> None:
        """The sentence, and quieter ones below it."""
        theme, width = self.canvas.theme, self._right - _LEFT
        text, style = fitted(self.canvas, chapter.sentence, Style(Face.TEXT, _SENTENCE, theme.ink), width)
        self.canvas.write(text, (_LEFT, 242), style)
        if chapter.below:
            quiet = Style(Face.ITALIC, 21, theme.faded)
            text, quiet = fitted(self.canvas, chapter.below[0], quiet, width)
            self.canvas.write(text, (_LEFT, 270), quiet)
        if len(chapter.below) > 1:
            text, quiet = fitted(self.canvas, chapter.below[1], Style(Face.ITALIC, 21, theme.faded), width)
            self.canvas.write(text, (_LEFT, 295), quiet)

    @property
    def _bottom(self) -> float:
        return self._size[1] - _CHART_UP

    def dot_at(self, chapter: Chapter, place: int) -> Point:
        """Where a dot stands: in its place in the row, as high as its value is of the top."""
        return self._x(chapter, place), self._y(chapter, chapter.dots[place].value)

    def _x(self, chapter: Chapter, place: int) -> float:
        step = (self._right - _CHART_LEFT - 60) / max(1, len(chapter.dots) - 1)
        return _CHART_LEFT + 34 + min(_FARTHEST, step) * place

    def _y(self, chapter: Chapter, value: float) -> float:
        return self._bottom - min(1.0, value / chapter.top) * (self._bottom - _CHART_TOP)

    def draw_chart(self, chapter: Chapter) -> None:
        """The axis from 0, the bands and curves, the dots, and the days below."""
        self._draw_axis(chapter)
        for number, curve in enumerate(chapter.curves):
            self._draw_curve(chapter, curve, seed=number)
        for place, dot in enumerate(chapter.dots):
            at = self.dot_at(chapter, place)
            draw_dot(self.canvas, at, _DOT if dot.inside else 19, self.canvas.theme.read)
            if dot.inside:
                letters = Style(Face.FIGURES, _INSIDE, self.canvas.theme.paper)
                self.canvas.write(dot.inside, (at[0], at[1] + 0.33 * _INSIDE), letters, Align.CENTRE)
            if place == chapter.ringed:
                draw_ring(self.canvas, at, 42, 3.2, self.canvas.theme.accent, 5)
        if not chapter.dots:
            # Where the first one will stand.
            here = self._x(chapter, 0), self._y(chapter, chapter.top / 2)
            draw_ring(self.canvas, here, _DOT, 2.2, self.canvas.theme.pencil, 4)
        self._draw_days(chapter)
        self._draw_legend(chapter)

    def _draw_axis(self, chapter: Chapter) -> None:
        theme = self.canvas.theme
        rule = blend(theme.paper, theme.pencil, 0.42)
        for part, words in enumerate(chapter.bounds):
            y = self._y(chapter, chapter.top * part / (len(chapter.bounds) - 1))
            draw_pencil(self.canvas, [(_CHART_LEFT, y), (self._right, y - 1)], 1.5, rule, part)
            self.canvas.write(words, (_CHART_LEFT - 16, y + 8), Style(Face.FIGURES, 24, theme.faded), Align.RIGHT)

    def _draw_curve(self, chapter: Chapter, curve: ChartCurve, seed: int) -> None:
        theme = self.canvas.theme
        xs = [self._x(chapter, place) for place in curve.places]
        upper = [(x, self._y(chapter, one.high)) for x, one in zip(xs, curve.points, strict=True)]
        lower = [(x, self._y(chapter, one.low)) for x, one in zip(xs, curve.points, strict=True)]
        draw_shape(self.canvas, [*upper, *reversed(lower)], blend(theme.paper, theme.pencil, 0.5), alpha=48)
        middle = [(x, self._y(chapter, one.middle)) for x, one in zip(xs, curve.points, strict=True)]
        draw_pencil(self.canvas, middle, 4, theme.pencil, 5 + seed)

    def _draw_days(self, chapter: Chapter) -> None:
        """The days below their dots, as many as have room."""
        style = Style(Face.TEXT, 22, self.canvas.theme.faded)
        last_x = -_BETWEEN_DAYS
        for place in self._places_with_days(chapter):
            x = self._x(chapter, place)
            if x - last_x < _BETWEEN_DAYS - 40:
                continue
            align = Align.RIGHT if x + 60 > self._right else Align.CENTRE
            x = self._right if align is Align.RIGHT else x
            self.canvas.write(on_day(chapter.dots[place].day, "short"), (x, self._bottom + 30), style, align)
            last_x = x

    def _places_with_days(self, chapter: Chapter) -> Sequence[int]:
        """The places whose day is told: the first, the last, and those between that keep away from both."""
        last = len(chapter.dots) - 1
        if last < 1:
            return range(last + 1)
        end = self._x(chapter, last) - _BETWEEN_DAYS
        return [0, *(place for place in range(1, last) if self._x(chapter, place) < end), last]

    def _draw_legend(self, chapter: Chapter) -> None:
        """What dots and bands are."""
        if not chapter.dots:
            return
        theme, y = self.canvas.theme, self._size[1] - _LEGEND_UP + 4
        quiet = Style(Face.ITALIC, 21, theme.faded)
        draw_dot(self.canvas, (_CHART_LEFT + 10, y - 7), 18, theme.read)
        end = self.canvas.write(chapter.dot, (_CHART_LEFT + 28, y), quiet).right / self.canvas.sheet.unit + 36
        if chapter.band:
            corners = [(end, y - 20), (end + 40, y - 20), (end + 40, y + 5), (end, y + 5)]
            draw_shape(self.canvas, corners, blend(theme.paper, theme.pencil, 0.5), alpha=70)
            draw_pencil(self.canvas, [(end, y - 6), (end + 40, y - 8)], 4, theme.pencil, 3)
            text, quiet = fitted(self.canvas, chapter.band, quiet, self._right - end - 54)
            self.canvas.write(text, (end + 54, y), quiet)

    def draw_note(self, words: str) -> None:
        """Words where a chart would be."""
        style = Style(Face.ITALIC, 24, self.canvas.theme.faded)
        draw_text_lines(self.canvas, words, (_LEFT, _CHART_TOP + 60), style, self._right - _LEFT)
