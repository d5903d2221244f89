"""Several maps side by side: of each its name, from which note to which it goes, its places on a small neck, and what
it means for the tunes on the shelf. In units.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import pygame

from game.coach.notes.ink_of_map import InkOfMap
from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.ink_neck import InkNeck, draw_ink_neck
from game.desk.kit.ink_staff import draw_ink_staff
from game.desk.kit.lines_of_text import text_lines
from game.desk.kit.note_fill import Fill, FilledNote, FilledPlace
from game.desk.typography import Face
from game.music.names import NoteNames
from game.music.notes_called import notes_called
from game.neck.map_figures import MapFigures
from game.neck.neck_map import NeckMap
from game.player.map_names import NamedMap
from game.screens.rows_in_sight import first_in_sight
from game.screens.setup.fitted_staff import fitted_staff
from game.screens.setup.fitted_words import draw_fitted_words
from game.screens.setup.map_sheet import FILLS, LEFT, RIGHT_MARGIN
from game.screens.setup.map_words import plainly_written
from game.text.catalogue import as_sentence, say, tell

FEWEST_COLUMNS, MOST_COLUMNS = 2, 4
_BETWEEN: Final = 34.0
_NAME, _STAFF_TOP, _STAFF_HEIGHT = 186.0, 200.0, 78.0
_MOST_SPACE: Final = 8.5
_NECK_TOP, _NECK_HEIGHT = 296.0, 104.0
_NAME_SIZE, _LONG_NAME_SIZE, _NAME_LINE = 27.0, 22.0, 24.0
_WORDS, _WORDS_SIZE, _SMALL_WORDS = 443.0, 22.0, 20.0


@dataclass(frozen=True, slots=True)
class MapColumn:
    """A map as it is compared: `figures` count on the tunes of the shelf."""

    named: NamedMap
    ink: InkOfMap
    figures: MapFigures
    in_use: bool

    @property
    def neck_map(self) -> NeckMap:
        """The map itself."""
        return self.named.neck_map

    def told(self, names: NoteNames) -> Iterator[str]:
        """What is said of it, the most important first, notes by these names."""
        figures, counts = self.figures, self.ink.counts
        yield say("maps.shares", on_map=figures.on_map_share, stretches=figures.stretch_share)
        yield say("maps.movement", movement=figures.movement)
        yield say("maps.ink", ink=counts.ink, pencil=counts.pencil, not_met=counts.not_met)
        for one in figures.gives_up:
            yield as_sentence(tell(notes_called(one, names)))


@dataclass(frozen=True, slots=True)
class MapsSheet:
    """Where the columns stand. `foot` is where they end, above the keys."""

    width: float
    foot: float
    columns: Sequence[MapColumn]
    chosen: int
    left_handed: bool = False
    names: NoteNames = NoteNames.ENGLISH

    @property
    def shown(self) -> int:
        """For how many columns there is room side by side."""
        return max(FEWEST_COLUMNS, min(MOST_COLUMNS, len(self.columns)))

    @property
    def first(self) -> int:
        """The first one in sight."""
        return first_in_sight(chosen=self.chosen, shown=self.shown, count=len(self.columns))

    @property
    def column_width(self) -> float:
        """How wide a column is."""
        return (self.width - LEFT - RIGHT_MARGIN - (self.shown - 1) * _BETWEEN) / self.shown

    def left_of(self, number: int) -> float:
        """Where a column begins, by its number among all."""
        return LEFT + (number - self.first) * (self.column_width + _BETWEEN)

    def column_at(self, at: tuple[float, float]) -> int | None:
        """The column under a point, None beside all of them."""
        x, y = at
        if not _NAME - 36 <= y <= self.foot:
            return None
        seen = range(self.first, min(self.first + self.shown, len(self.columns)))
        return next((one for one in seen if 0 <= x - self.left_of(one) <= self.column_width), None)

    def draw(self, canvas: Canvas) -> pygame.Rect:
        """The columns in sight; returns the pixels of the chosen one."""
        for number in range(self.first, min(self.first + self.shown, len(self.columns))):
            self._draw_column(canvas, number)
        if len(self.columns) > self.shown:
            told = say("maps.in_sight", first=self.first + 1, last=self.first + self.shown, count=len(self.columns))
            quiet = Style(Face.ITALIC, 21, canvas.theme.faded)
            canvas.write(told, (self.width - RIGHT_MARGIN, 92), quiet, Align.RIGHT)
        return canvas.rect(self.left_of(self.chosen), _NAME - 36, self.column_width, self.foot - _NAME + 36)

    @property
    def beside(self) -> tuple[float, float, float]:
        """The room beside a single column: left end, baseline and width."""
        left = self.left_of(self.first + 1)
        return left, _NAME + 20, self.width - RIGHT_MARGIN - left

    def _draw_column(self, canvas: Canvas, number: int) -> None:
        column, left, theme = self.columns[number], self.left_of(number), canvas.theme
        chosen = number == self.chosen
        used, quiet = say("maps.in_use_word") if column.in_use else "", Style(Face.ITALIC, 21, theme.faded)
        room = self.column_width - (canvas.width_of(used, quiet) + 12 if used else 0)
        style = Style(Face.TITLE if chosen else Face.TEXT, _NAME_SIZE, theme.ink)
        name, style = self._draw_name(canvas, column.named.name, left, style, room)
        canvas.write(used, (left + self.column_width, _NAME), quiet, Align.RIGHT)
        if chosen:
            end = left + canvas.width_of(name, style)
            draw_pencil(
                canvas, [(left - 2, _NAME + 9), ((left + end) / 2, _NAME + 7), (end, _NAME + 9)], 4.5, theme.accent, 7
            )
        self._draw_staff(canvas, column, left)
        self._draw_neck(canvas, column, left)
        self._draw_words(canvas, column, left)

    def _draw_name(self, canvas: Canvas, name: str, left: float, style: Style, room: float) -> tuple[str, Style]:
        """A name in one line or, where that would be small, in two; returns what stands in the last line, and how."""
        if canvas.width_of(name, style) > room:
            style = replace(style, size=_LONG_NAME_SIZE)
            first, *more = text_lines(canvas, name, style, self.column_width)
            if more:
                canvas.write(first, (left, _NAME - _NAME_LINE), style)
                name = " ".join(more)
        name, style = fitted(canvas, name, style, room)
        canvas.write(name, (left, _NAME), style)
        return name, style

    def _draw_staff(self, canvas: Canvas, column: MapColumn, left: float) -> None:
        """From which note to which the map goes."""
        homes, neck_map = column.neck_map.homes, column.neck_map
        ends = [plainly_written(one.sounding, neck_map) for one in (homes[0], homes[-1])] if homes else []
        room = fitted_staff(
            ends,
            neck_map.reading,
            ends=(left, left + self.column_width),
            between=(_STAFF_TOP, _STAFF_TOP + _STAFF_HEIGHT),
            most_space=_MOST_SPACE,
            air=(1.2, 1.6),
        )
        draw_ink_staff(canvas, [FilledNote(note.name, Fill.PRINT) for note in ends], room)

    def _draw_neck(self, canvas: Canvas, column: MapColumn, left: float) -> None:
        neck_map = column.neck_map
        frets = [home.place.fret for home in neck_map.homes] or [neck_map.position]
        neck = InkNeck(
            left=left,
            top=_NECK_TOP,
            width=self.column_width,
            height=_NECK_HEIGHT,
            first=max(0, min(frets) - 1),
            last=max(*frets, min(frets) + 4),
            position=neck_map.position,
            strings=len(neck_map.tuning.open_strings),
            left_handed=self.left_handed,
            second=neck_map.second.position if neck_map.second else None,
            span=neck_map.hand.span,
        )
        places = [FilledPlace(one.place.string, one.place.fret, FILLS[one.ink]) for one in column.ink.pitches]
        draw_ink_neck(canvas, neck, places, numbered=False)

    def _draw_words(self, canvas: Canvas, column: MapColumn, left: float) -> None:
        size = _SMALL_WORDS if self.shown == MOST_COLUMNS else _WORDS_SIZE
        style = Style(Face.TEXT, size, canvas.theme.ink)
        texts = [(told, style) for told in column.told(self.names)]
        draw_fitted_words(canvas, texts, (left, _WORDS), self.column_width, self.foot)
