"""The three marks that bars can earn, side by side: underlined by the pen once earned, by pencil dashes before. One
that rests on the player's own word is pencil, too, in one stroke.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.inked import draw_ink
from game.desk.typography import Face

SIZE: Final = 24.0
"""Of the words, in units."""

_BETWEEN, _TO_NEW = 32.0, 9.0
_BELOW, _OVER = 8.0, 1.5


@dataclass(frozen=True, slots=True)
class WordedMark:
    """A mark in words. `new` is the word that stands after one that was earned just now, empty for none; `by_word`
    where it was earned by the player's own word.
    """

    word: str
    earned: bool
    new: str = ""
    by_word: bool = False

    @property
    def inked(self) -> bool:
        """Whether the pen has drawn it."""
        return self.earned and not self.by_word


def marks_width(canvas: Canvas, marks: Sequence[WordedMark]) -> float:
    """How much room they take side by side, in units."""
    between = _BETWEEN * max(0, len(marks) - 1)
    return between + sum(_width(canvas, mark) for mark in marks)


def draw_marks(canvas: Canvas, marks: Sequence[WordedMark], left: float, baseline: float) -> None:
    """The marks from `left` on, on one line."""
    for seed, mark in enumerate(marks):
        _draw(canvas, mark, left, baseline, seed)
        left += _width(canvas, mark) + _BETWEEN


def _word_style(canvas: Canvas, mark: WordedMark) -> Style:
    colour = canvas.theme.read if mark.inked else canvas.theme.pencil if mark.earned else canvas.theme.faded
    return Style(Face.TITLE if mark.new else Face.TEXT, SIZE, colour)


def _new_style(canvas: Canvas) -> Style:
    return Style(Face.ITALIC, SIZE - 1, canvas.theme.accent)


def _width(canvas: Canvas, mark: WordedMark) -> float:
    new = _TO_NEW + canvas.width_of(mark.new, _new_style(canvas)) if mark.new else 0.0
    return canvas.width_of(mark.word, _word_style(canvas, mark)) + new


def _draw(canvas: Canvas, mark: WordedMark, left: float, baseline: float, seed: int) -> None:
    style = _word_style(canvas, mark)
    canvas.write(mark.word, (left, baseline), style)
    right, y = left + canvas.width_of(mark.word, style), baseline + _BELOW
    if mark.inked:
        draw_ink(canvas, [(left - _OVER, y + 0.6), (right + _OVER, y - 0.6)], 3.4, canvas.theme.read)
    elif mark.earned:
        draw_pencil(canvas, [(left - _OVER, y + 0.6), (right + _OVER, y - 0.6)], 2.6, canvas.theme.pencil, 20 + seed)
    else:
        draw_pencil(canvas, [(left, y), (right, y - 0.5)], 1.8, canvas.theme.pencil, 20 + seed, dashes=(7, 6))
    if mark.new:
        canvas.write(mark.new, (right + _TO_NEW, baseline), _new_style(canvas))
