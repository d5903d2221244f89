"""How a result lies on its sheet: the page above, below it counts, cause and advice, in the margin the ladder.

What to do next is set largest: it is what a result is for, and the counts only say why.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.ladder import Rung
from game.desk.typography import Face, wrapped
from game.screens.reading.counts_in_words import CountSaid
from game.screens.reading.hand_on_neck import HAND_HEIGHTS, HandOnNeck
from game.screens.reading.margin_ladder import draw_climbing_rung, draw_margin_ladder, left_of_ladder
from game.screens.reading.passage_heading import PassageHeading, draw_passage_heading
from game.screens.reading.result_words import ResultWords
from game.text.catalogue import say, tell

_PAGE_TOP: Final = 112.0
# From the lower edge of the window up to the baseline of the last line of advice, by the rows of keys below it.
_LAST_LINE: Final = {1: 142.0, 2: 158.0}
_WHY_SIZE, _NOW_SIZES = 29.0, (40.0, 36.0, 32.0)
_LEADING, _APART = 1.2, 14.0
_TO_FIGURES, _TO_WHAT, _TO_WORDS, _TO_BESIDE = 40.0, 28.0, 22.0, 32.0
_FIGURE_SIZE, _TOTAL_SIZE, _WHAT_SIZE = 29.0, 24.0, 22.0
_TO_TOTAL, _TO_NEXT, _COLUMN = 9.0, 26.0, 330.0
# Advice that takes more lines than this is set smaller, as far as that goes.
_MOST_LINES: Final = 2
# So high a page is at least; and so high it is before anything is told beside.
_LEAST_PAGE, _PAGE_BEFORE_WORDS = 120.0, 236.0
# And above a neck, while that is not at its lowest.
_PAGE_ABOVE_NECK = 150.0


@dataclass(frozen=True, slots=True)
class _Paragraph:
    """Cause or advice: its name, its lines, and how large they are, in units."""

    name: str
    lines: tuple[str, ...]
    size: float
    face: Face

    @property
    def height(self) -> float:
        """From its first baseline to its last."""
        return _LEADING * self.size * (len(self.lines) - 1)


@dataclass(frozen=True)
class ResultSheet:
    """One result in a window. `strings` is whether a row tells what the guitar does, above that of the keys.
    `played_bpm` is the tempo of the take: from its rung an arrow leads to that of now, unless the red one is
    `climbing`. `by_word` where its player said what was right: then figures stay pencil. `hand` is the way of the hand
    on the neck, below the page of a take in free reading.
    """

    canvas: Canvas
    heading: PassageHeading
    words: ResultWords
    rungs: tuple[Rung, ...]
    played_bpm: int | None = None
    climbing: bool = False
    strings: bool = False
    by_word: bool = False
    hand: HandOnNeck | None = None

    @property
    def left(self) -> float:
        """Of everything, in units."""
        return self.canvas.sheet.text_area.left / self.canvas.sheet.unit

    @property
    def right(self) -> float:
        """Of what stands below the page."""
        return self.canvas.sheet.text_area.right / self.canvas.sheet.unit

    @property
    def page_right(self) -> float:
        """Of page and heading: left of the ladder, where there is one."""
        return left_of_ladder(self.canvas) if self.rungs else self.right

    @property
    def page_area(self) -> pygame.Rect:
        """Where the page has room, in pixels."""
        height = max(_LEAST_PAGE, self._hand_top - 10 - _PAGE_TOP)
        return self.canvas.rect(self.left, _PAGE_TOP, self.page_right - self.left, height)

    @property
    def _hand_top(self) -> float:
        """Where the neck with the way of the hand begins, or what stands below the page."""
        return self._rule_y - self._hand_height

    @property
    def _hand_height(self) -> float:
        """As high as the page leaves room for; 0 where no hand is shown."""
        if self.hand is None:
            return 0.0
        least, most = HAND_HEIGHTS
        return min(most, max(least, self._rule_y - _PAGE_ABOVE_NECK - _PAGE_TOP))

    @property
    def words_area(self) -> pygame.Rect:
        """Where counts, cause and advice stand, in pixels."""
        bottom = self._height - _LAST_LINE[self.key_rows] + 12
        return self.canvas.rect(self.left, self._rule_y, self.right - self.left, bottom - self._rule_y)

    @property
    def key_rows(self) -> int:
        """How many rows of keys there are, that of the guitar among them."""
        return 1 + self.strings

    @property
    def _height(self) -> float:
        return self.canvas.sheet.size[1] / self.canvas.sheet.unit

    @property
    def _rule_y(self) -> float:
        """The line that is ruled between the page and what is said of it."""
        return self._rule_without_more - (_TO_BESIDE if self._beside else 0.0)

    @property
    def _rule_without_more(self) -> float:
        """Where that line would be if nothing were told beside."""
        figures = _TO_FIGURES + (0.0 if self._counts_in_line else _TO_WHAT) if self.words.counts else 0.0
        return self._above_words - figures

    @property
    def _above_words(self) -> float:
        """The baseline of the last line above the words."""
        return self._words_y - (self._paragraphs[0].size if self._paragraphs else 0.0) - _TO_WORDS

    @property
    def _words_y(self) -> float:
        """The baseline of the first line of words."""
        steps = [below.size * _LEADING + _APART for below in self._paragraphs[1:]]
        heights = sum(paragraph.height for paragraph in self._paragraphs)
        return self._height - _LAST_LINE[self.key_rows] - heights - sum(steps)

    @cached_property
    def _paragraphs(self) -> tuple[_Paragraph, ...]:
        """Cause and advice, each with its name and in its lines."""
        why = self._paragraph(
            say("result.hand" if self.words.of_hand else "result.why"), self.words.why, _WHY_SIZE, Face.TEXT
        )
        now = [self._paragraph(say("result.now"), self.words.now, size, Face.TITLE) for size in _NOW_SIZES]
        chosen = next((one for one in now if len(one.lines) <= _MOST_LINES), now[-1])
        return tuple(one for one in (why, chosen) if one.lines)

    def _paragraph(self, name: str, text: str, size: float, face: Face) -> _Paragraph:
        width = self.canvas.px(self.right - self._hang_of(name, size))
        lines = wrapped(text, face, self.canvas.px(size), width) if text else ()
        return _Paragraph(name, lines, size, face)

    def _hang_of(self, name: str, size: float) -> float:
        """Where the words of a paragraph begin, behind its name."""
        return self.left + self.canvas.width_of(name, Style(Face.TITLE, size, self.canvas.theme.accent)) + 0.5 * size

    @cached_property
    def _beside(self) -> str:
        """As much of what is told beside as has room in one line; nothing where the page needs the room."""
        told = ""
        neck = 0.0 if self.hand is None else HAND_HEIGHTS[-1]
        if self._rule_without_more - neck - _TO_BESIDE - 10 - _PAGE_TOP < _PAGE_BEFORE_WORDS:
            return told
        for sentence in self.words.beside:
            more = f"{told} {sentence}".strip()
            if self.canvas.width_of(more, self._quiet) <= self.page_right - self.left:
                told = more
        return told

    @property
    def _quiet(self) -> Style:
        return Style(Face.ITALIC, 22, self.canvas.theme.faded)

    def draw(self) -> tuple[pygame.Rect, ...]:
        """Draw all but page, keys and corner; returns what can be clicked of each rung."""
        draw_passage_heading(self.canvas, self.heading, self.page_right)
        theme, y = self.canvas.theme, self._rule_y
        hair = blend(theme.paper, theme.pencil, 0.5)
        draw_pencil(self.canvas, [(self.left, y), (self.page_right - 4, y - 2)], 1.6, hair, 18)
        if self.hand is not None:
            width = self.page_right - self.left - 4
            self.hand.draw(self.canvas, self.left, self._hand_top, width, self._hand_height)
        self._draw_counts(y + _TO_FIGURES)
        if self._beside:
            self.canvas.write(self._beside, (self.left, self._above_words), self._quiet)
        self._draw_words()
        return self._draw_ladder()

    @cached_property
    def _counts_in_line(self) -> bool:
        """Whether what was counted has room behind its figures; else it stands below them."""
        ends = [self._count_width(count, in_line=True) + _TO_NEXT for count in self.words.counts]
        return sum(ends) - _TO_NEXT <= self.page_right - self.left

    def _count_width(self, count: CountSaid, *, in_line: bool) -> float:
        figure, total, what = self._count_styles
        width = self.canvas.width_of(str(count.figure), figure) + _TO_TOTAL
        width += self.canvas.width_of(tell(count.of), total)
        below = self.canvas.width_of(tell(count.what), what)
        return width + _TO_TOTAL + below if in_line else max(width, below)

    @property
    def _count_styles(self) -> tuple[Style, Style, Style]:
        """Of the figure, of what it is of, and of what was counted."""
        theme = self.canvas.theme
        return (
            Style(Face.FIGURES, _FIGURE_SIZE, theme.pencil if self.by_word else theme.read),
            Style(Face.TEXT, _TOTAL_SIZE, theme.ink),
            Style(Face.ITALIC, _WHAT_SIZE, theme.faded),
        )

    def _draw_counts(self, baseline: float) -> None:
        canvas, (figure, total, what) = self.canvas, self._count_styles
        step, x = (self.page_right - self.left) / 3 + 18, self.left
        for count in self.words.counts:
            end = x + canvas.width_of(str(count.figure), figure) + _TO_TOTAL
            canvas.write(str(count.figure), (x, baseline), figure)
            canvas.write(tell(count.of), (end, baseline), total)
            if self._counts_in_line:
                after = end + canvas.width_of(tell(count.of), total) + _TO_TOTAL
                canvas.write(tell(count.what), (after, baseline), what)
                x += self._count_width(count, in_line=True) + _TO_NEXT
            else:
                canvas.write(tell(count.what), (x, baseline + _TO_WHAT), what)
                x += min(step, _COLUMN)

    def _draw_words(self) -> None:
        canvas, theme, y = self.canvas, self.canvas.theme, self._words_y
        for number, one in enumerate(self._paragraphs):
            y += _LEADING * one.size + _APART if number else 0.0
            canvas.write(one.name, (self.left, y), Style(Face.TITLE, one.size, theme.accent))
            style = Style(one.face, one.size, theme.ink)
            for line_number, line in enumerate(one.lines):
                at = self._hang_of(one.name, one.size), y + line_number * _LEADING * one.size
                canvas.write(line, at, style)
            y += one.height

    def _draw_ladder(self) -> tuple[pygame.Rect, ...]:
        if not self.rungs:
            return ()
        bottom = self._above_words + 6
        return draw_margin_ladder(self.canvas, self.rungs, bottom, self.played_bpm, climbing=self.climbing)

    def draw_climbing(self, climbed: float) -> None:
        """The red rung on its way, 0 to 1, on the sheet that was drawn without it."""
        if self.played_bpm is not None:
            draw_climbing_rung(self.canvas, self.rungs, self._above_words + 6, self.played_bpm, climbed)
