"""How a result lies on its sheet: the page above, below it counts, cause and advice, in the margin the ladder."""

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.ladder import Rung
from game.desk.typography import Face, wrapped
from game.screens.reading.margin_ladder import draw_margin_ladder, left_of_ladder
from game.screens.reading.passage_heading import PassageHeading, draw_passage_heading
from game.screens.reading.result_words import ResultWords
from game.text.catalogue import say, tell

_PAGE_TOP: Final = 112.0
# From the lower edge of the window up to the baseline of the last line of advice, by the rows of keys below it.
_LAST_LINE: Final = {1: 142.0, 2: 158.0, 3: 196.0}
# A window so high has room for two rows of keys above that of the guitar.
_HIGH: Final = 760.0
_LINE, _PARAGRAPH, _WORDS_SIZE = 34.0, 44.0, 27.0
_TO_FIGURES, _TO_WHAT, _TO_WORDS, _TO_BESIDE = 62.0, 36.0, 50.0, 30.0
_FIGURE_SIZE, _TOTAL_SIZE, _WHAT_SIZE = 62.0, 28.0, 24.0
# So high a page is at least; and so high it is before anything is told beside.
_LEAST_PAGE, _PAGE_BEFORE_WORDS = 120.0, 236.0


@dataclass(frozen=True)
class ResultSheet:
    """One result in a window. `many_keys` want two rows at its foot, and above them stands what the guitar does with
    `strings`. `played_bpm` is the tempo of the take: an arrow leads from its rung to the one of now. `by_word` where
    its player said what was right: then figures stay pencil.
    """

    canvas: Canvas
    heading: PassageHeading
    words: ResultWords
    rungs: tuple[Rung, ...]
    played_bpm: int | None = None
    many_keys: bool = False
    strings: bool = False
    by_word: bool = False

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
        height = max(_LEAST_PAGE, self._rule_y - 10 - _PAGE_TOP)
        return self.canvas.rect(self.left, _PAGE_TOP, self.page_right - self.left, height)

    @property
    def key_rows(self) -> int:
        """How many rows there is room for, that of the guitar among them."""
        rows = 2 if self.many_keys and not (self.strings and self._height < _HIGH) else 1
        return rows + self.strings

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
        figures = _TO_FIGURES + _TO_WHAT if self.words.counts else 0.0
        return self._words_y - figures - _TO_WORDS

    @property
    def _words_y(self) -> float:
        """The baseline of the first line of words."""
        heights = [_PARAGRAPH + _LINE * (len(lines) - 1) for _, lines in self._paragraphs]
        return self._height - _LAST_LINE[self.key_rows] - sum(heights) + _PARAGRAPH

    @property
    def _hang(self) -> float:
        """Where the words of cause and advice begin, behind the longer of their names."""
        style = Style(Face.TITLE, _WORDS_SIZE, self.canvas.theme.accent)
        return self.left + max(self.canvas.width_of(say(key), style) for key in ("result.why", "result.now")) + 13

    @cached_property
    def _paragraphs(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Cause and advice, each with its name and in its lines."""
        width = self.canvas.px(self.right - self._hang)
        told = ((say("result.why"), self.words.why), (say("result.now"), self.words.now))
        size = self.canvas.px(_WORDS_SIZE)
        return tuple((name, wrapped(text, Face.TEXT, size, width)) for name, text in told if text)

    @cached_property
    def _beside(self) -> str:
        """As much of what is told beside as has room in one line; nothing where the page needs the room."""
        told = ""
        if self._rule_without_more - _TO_BESIDE - 10 - _PAGE_TOP < _PAGE_BEFORE_WORDS:
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
        self._draw_counts(y + _TO_FIGURES)
        if self._beside:
            self.canvas.write(self._beside, (self.left, self._words_y - _TO_WORDS), self._quiet)
        self._draw_words()
        return self._draw_ladder()

    def _draw_counts(self, baseline: float) -> None:
        canvas, theme = self.canvas, self.canvas.theme
        colour = theme.pencil if self.by_word else theme.read
        figure, what = Style(Face.FIGURES, _FIGURE_SIZE, colour), Style(Face.ITALIC, _WHAT_SIZE, theme.faded)
        step = (self.page_right - self.left) / 3 + 18
        for number, count in enumerate(self.words.counts):
            x = self.left + number * min(step, 330.0)
            canvas.write(str(count.figure), (x, baseline), figure)
            end = x + canvas.width_of(str(count.figure), figure) + 13
            canvas.write(tell(count.of), (end, baseline), Style(Face.TEXT, _TOTAL_SIZE, theme.ink))
            canvas.write(tell(count.what), (x, baseline + _TO_WHAT), what)

    def _draw_words(self) -> None:
        canvas, theme, y = self.canvas, self.canvas.theme, self._words_y
        for name, lines in self._paragraphs:
            canvas.write(name, (self.left, y), Style(Face.TITLE, _WORDS_SIZE, theme.accent))
            for number, line in enumerate(lines):
                canvas.write(line, (self._hang, y + number * _LINE), Style(Face.TEXT, _WORDS_SIZE, theme.ink))
            y += _PARAGRAPH + _LINE * (len(lines) - 1)

    def _draw_ladder(self) -> tuple[pygame.Rect, ...]:
        if not self.rungs:
            return ()
        return draw_margin_ladder(self.canvas, self.rungs, self._words_y - 40, self.played_bpm)
