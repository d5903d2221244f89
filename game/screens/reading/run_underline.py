"""The longest clean run of a take on its page: a stroke of the blue pencil below its notes, and its words."""

from collections.abc import Sequence
from dataclasses import dataclass

import pygame

from game.desk.kit.by_pencil import draw_pencil, pencil_words
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.typography import Face
from game.engraving.still_page import StillPage
from game.music.written import HeadId

# From what stands above to the stroke, from there to the baseline of the words, and the room of both, in units.
_TO_STROKE, _TO_WORDS = 12.0, 27.0
_STROKE_ROOM, _WORDS_ROOM = 22.0, 28.0
_SIZE, _THICK = 23.0, 4.6


@dataclass(frozen=True, slots=True)
class RunUnderline:
    """The noteheads of a run, in their order, at least one, and its words."""

    heads: tuple[HeadId, ...]
    words: str

    def on_line(self, page: StillPage, line: int) -> tuple[HeadId, ...]:
        """Those that stand on a line."""
        return tuple(head for head in self.heads if page.line_of(head) == line)

    def worded_line(self, page: StillPage) -> int:
        """The line that the words stand on: that of most of its notes."""
        lines = [page.line_of(head) for head in self.heads]
        return max(lines, key=lines.count)

    def rooms_px(self, page: StillPage, unit: float) -> list[int]:
        """The room that it takes below each line of a page, in pixels."""
        worded = self.worded_line(page)
        return [
            round((_STROKE_ROOM + (_WORDS_ROOM if line == worded else 0)) * unit) if self.on_line(page, line) else 0
            for line in range(len(page.lines))
        ]

    def draw(self, canvas: Canvas, page: StillPage, line: int, at: pygame.Rect) -> None:
        """Draw what of it stands on a line. `at` is where the left end of that line is, and where its marks end."""
        heads = self.on_line(page, line)
        if not heads:
            return
        unit = canvas.sheet.unit
        left, right = _ends(page, heads)
        x0, x1, y = (left + at.left) / unit - 4, (right + at.left) / unit + 4, at.top / unit + _TO_STROKE
        middle = (x0 + x1) / 2
        draw_pencil(canvas, [(x0, y + 1), (middle, y - 1), (x1, y)], _THICK, canvas.theme.read, 8 + line)
        if line == self.worded_line(page):
            style = Style(Face.ITALIC, _SIZE, canvas.theme.read)
            half = canvas.width_of(self.words, style) / 2
            middle = max(middle, at.left / unit + half)
            middle = min(middle, (at.left + page.size[0]) / unit - half)
            pencil_words(canvas, self.words, (middle, y + _TO_WORDS), style, Align.CENTRE)


def _ends(page: StillPage, heads: Sequence[HeadId]) -> tuple[int, int]:
    """From which pixel of a page to which some heads reach."""
    rects = [page.rect_of(head) for head in heads]
    return min(rect.left for rect in rects), max(rect.right for rect in rects)
