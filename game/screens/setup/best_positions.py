"""The best map of every position for the tunes on the shelf, side by side, the best first: one is chosen."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.typography import Face
from game.music.names import NoteNames
from game.music.notes_called import notes_called
from game.neck.map_figures import MapFigures
from game.neck.map_search import best_maps
from game.neck.melody_counts import MelodyCounts
from game.neck.neck_map import NeckMap, roman
from game.screens.rows_in_sight import first_in_sight
from game.screens.setup.map_sheet import LEFT, RIGHT_MARGIN
from game.text.catalogue import as_sentence, say, tell

_TOP, _STEP = 330.0, 34.0
_COLUMNS: Final = (("on_map", 270.0), ("stretches", 430.0), ("shifts", 590.0), ("movement", 752.0))
"""What stands in the columns of figures, and where each ends."""
_NUMERAL, _REASONS = 108.0, 800.0
_MOST_REASONS: Final = 4


@dataclass
class BestPositions:
    """The positions with their figures, the best first, and which is `chosen`, from 0."""

    found: tuple[MapFigures, ...]
    chosen: int = 0

    @property
    def best(self) -> MapFigures:
        """The one that is chosen."""
        return self.found[self.chosen]

    def choose(self, by: int) -> None:
        """The one so many rows below, round the ends."""
        self.chosen = (self.chosen + by) % len(self.found)

    def rows_shown(self, foot: float) -> int:
        """How many there is room for above the keys at the foot."""
        return max(1, min(len(self.found), int((foot - 14 - _TOP) // _STEP)))

    def first_shown(self, foot: float) -> int:
        """The first of those."""
        return first_in_sight(chosen=self.chosen, shown=self.rows_shown(foot), count=len(self.found))

    def row_at(self, at: tuple[float, float], foot: float) -> int | None:
        """The row under a point, from 0, None beside all of them."""
        row = int((at[1] - _TOP - 10) // _STEP)
        inside = 0 <= row < self.rows_shown(foot) and LEFT - 10 <= at[0] <= _COLUMNS[-1][1] + 10
        return self.first_shown(foot) + row if inside else None


def best_positions(neck_map: NeckMap, counts: MelodyCounts) -> BestPositions:
    """For the neck and the hand of a map, and the tunes counted."""
    found = best_maps(
        counts, tuning=neck_map.tuning, frets=neck_map.frets, reading=neck_map.reading, hand=neck_map.hand
    )
    return BestPositions(found)


def draw_best_positions(canvas: Canvas, best: BestPositions, foot: float, here: int, names: NoteNames) -> pygame.Rect:
    """A row for each position, beside them the reasons of the one that is chosen; `here` is the position of now.
    Returns the pixels of the chosen row.
    """
    theme = canvas.theme
    for column, right in _COLUMNS:
        words, style = fitted(canvas, say(f"map.best.{column}"), Style(Face.ITALIC, 20, theme.faded), 150)
        canvas.write(words, (right, _TOP), style, Align.RIGHT)
    first, shown = best.first_shown(foot), best.rows_shown(foot)
    if shown < len(best.found):
        told = say("map.best.shown", shown=shown, total=len(best.found))
        canvas.write(told, (LEFT, _TOP), Style(Face.ITALIC, 20, theme.faded))
    chosen = canvas.rect(LEFT, _TOP, 1, 1)
    for row, figures in enumerate(best.found[first : first + shown]):
        y = _TOP + _STEP * (row + 1)
        if first + row == best.chosen:
            draw_pencil(canvas, [(62, y - 8), (76, y - 10), (90, y - 9)], 6.0, theme.accent, 31)
            chosen = canvas.rect(LEFT, y - 26, _COLUMNS[-1][1] - LEFT, _STEP)
        _draw_row(canvas, figures, y, chosen=first + row == best.chosen, here=figures.neck_map.position == here)
    _draw_reasons(canvas, best.best, names)
    return chosen


def _draw_row(canvas: Canvas, figures: MapFigures, y: float, *, chosen: bool, here: bool) -> None:
    theme = canvas.theme
    face = Face.TITLE if chosen else Face.TEXT
    canvas.write(roman(figures.neck_map.position), (_NUMERAL, y), Style(face, 25, theme.ink))
    if here:
        canvas.write(say("map.best.here"), (_NUMERAL + 48, y), Style(Face.ITALIC, 20, theme.faded))
    for (_, right), told in zip(_COLUMNS, _figures(figures), strict=True):
        canvas.write(told, (right, y), Style(face, 22, theme.ink), Align.RIGHT)


def _figures(figures: MapFigures) -> Iterable[str]:
    yield say("map.percent", share=figures.on_map_share)
    yield say("map.percent", share=figures.stretch_share)
    yield say("map.percent", share=figures.outlying_share)
    yield say("map.movement", movement=figures.movement)


def _draw_reasons(canvas: Canvas, figures: MapFigures, names: NoteNames) -> None:
    theme, width = canvas.theme, canvas.sheet.size[0] / canvas.sheet.unit - RIGHT_MARGIN - _REASONS
    heading = say("map.best.reasons", position=roman(figures.neck_map.position))
    text, style = fitted(canvas, heading, Style(Face.TITLE, 25, theme.ink), width)
    canvas.write(text, (_REASONS, _TOP + 4), style)
    y = _TOP + 38
    reasons = [as_sentence(tell(notes_called(one, names))) for one in figures.gives_up] or [say("map.best.nothing")]
    for reason in reasons[:_MOST_REASONS]:
        y = draw_text_lines(canvas, reason, (_REASONS, y), Style(Face.TEXT, 21, theme.ink), width) + 4
