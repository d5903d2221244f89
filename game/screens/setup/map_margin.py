"""What is said beside the map: of the note looked at, of a change that was asked for, or of the map as a whole."""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.boxed_key import HIT_HEIGHT, draw_key, draw_words
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.typography import Face
from game.music.names import NoteNames
from game.music.pitch import pitch
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint
from game.screens.setup.map_changes import MapChange
from game.screens.setup.map_choice import LookedAt
from game.screens.setup.map_sheet import RIGHT_MARGIN, WORDS_LEFT, MapSheet
from game.screens.setup.map_shelf import MapShelf, MoveCost, ShelfFigures
from game.screens.setup.map_words import cost_told, ink_told, named, note_and_line, place_told, reach_told, row_told
from game.text.catalogue import say

_TOP: Final = 342.0
_ROW, _TABLE_ROW, _TOOL_ROW = 27.0, 26.0, 34.0
_TO_FIGURE: Final = 10.0


@dataclass(frozen=True, slots=True)
class MapMargin:
    """The column beside the neck. `shelf` is None while its tunes are still being counted."""

    canvas: Canvas
    context: ScreenContext
    sheet: MapSheet
    shelf: MapShelf | None

    @property
    def _quiet(self) -> Style:
        return Style(Face.ITALIC, 21, self.canvas.theme.faded)

    @property
    def _names(self) -> NoteNames:
        return self.context.settings.note_names

    @property
    def _right(self) -> float:
        return self.sheet.size[0] - RIGHT_MARGIN

    def _lines(self, text: str, y: float, style: Style) -> float:
        return draw_text_lines(self.canvas, text, (WORDS_LEFT, y), style, self._right - WORDS_LEFT)

    @property
    def _bottom(self) -> float:
        """The last baseline above the corner."""
        return self.sheet.size[1] - 26 - 86 - 4

    def draw_question(self, change: MapChange, before: ShelfFigures, after: ShelfFigures) -> None:
        """What would change, and what that means for the shelf."""
        ink = self.canvas.theme.ink
        y = self._lines(change.told, _TOP, Style(Face.TEXT, 22, ink))
        if change.caution:
            y = self._lines(change.caution, y + 2, self._quiet)
        self._draw_table(y + 6, before, after)

    @property
    def question_rect(self) -> pygame.Rect:
        """The pixels where that stands."""
        return self.canvas.rect(WORDS_LEFT, _TOP - 30, self._right - WORDS_LEFT, self.sheet.foot - _TOP)

    def draw_whole(self, before: ShelfFigures | None, tools: tuple[KeyHint, ...]) -> None:
        """What the map means for the shelf, beside what it meant `before` the last change; how far its notes have come;
        and the keys that change it as a whole.
        """
        y = self._draw_table(_TOP, before, self._figures)
        counts = self.sheet.ink.counts
        told = say("map.ink_counts", ink=counts.ink, pencil=counts.pencil, not_met=counts.not_met)
        text, style = fitted(self.canvas, told, self._quiet, self._right - WORDS_LEFT)
        self.canvas.write(text, (WORDS_LEFT, y), style)
        y += 24
        for hint in tools:
            self._draw_tool(hint, y)
            y += _TOOL_ROW

    @property
    def _figures(self) -> ShelfFigures | None:
        return self.shelf.figures(self.sheet.neck_map) if self.shelf else None

    def _draw_table(self, y: float, before: ShelfFigures | None, now: ShelfFigures | None) -> float:
        """Four figures of the shelf, each after what it was before; returns where a line after them stands."""
        if now is None:
            return self._lines(say("map.shelf.counting"), y, self._quiet)
        olds = _told_before(before, now) if before else [""] * 4
        for (word, figure), old in zip(_told_with_words(now), olds, strict=True):
            self._draw_figure(word, figure, old, y)
            y += _TABLE_ROW
        return y

    def _draw_figure(self, word: str, figure: str, old: str, y: float) -> None:
        canvas, theme = self.canvas, self.canvas.theme
        style = Style(Face.TITLE if old else Face.TEXT, 21, theme.accent if old else theme.ink)
        canvas.write(figure, (self._right, y), style, Align.RIGHT)
        left = self._right - canvas.width_of(figure, style) - _TO_FIGURE
        if old:
            quiet = Style(Face.TEXT, 21, theme.faded)
            told = say("map.shelf.before", before=old)
            canvas.write(told, (left, y), quiet, Align.RIGHT)
            left -= canvas.width_of(told, quiet) + _TO_FIGURE
        text, style = fitted(canvas, word, Style(Face.TEXT, 21, theme.ink), left - WORDS_LEFT)
        canvas.write(text, (WORDS_LEFT, y), style)

    def _draw_tool(self, hint: KeyHint, middle: float) -> None:
        """A key in its box with what it does, which can be clicked whole."""
        canvas, window = self.canvas, self.context.window
        box = draw_key(canvas, hint.labels[0], (WORDS_LEFT, middle))
        words = draw_words(canvas, hint.meaning, (box.right / canvas.sheet.unit + 9, middle))
        hit = box.union(words)
        least = canvas.px(min(HIT_HEIGHT, _TOOL_ROW) - 1)
        window.let_click(hit.inflate(0, max(0, least - hit.height)), hint.presses[0])
        window.tell_keys((hint,))

    def draw_note(self, looked: LookedAt) -> None:
        """What there is to say of a note, one below the other."""
        theme, neck_map, names = self.canvas.theme, self.sheet.neck_map, self._names
        heading = Style(Face.TITLE, 26, theme.ink)
        found = self.sheet.inked(looked.sounding)
        if found is None:
            y = self._lines(named(looked.sounding, neck_map, names), _TOP, heading)
            y = self._lines(say("map.no_home"), y, self._quiet)
        else:
            y = self._lines(note_and_line(pitch(found.shown.written), names, neck_map.reading.clef), _TOP, heading)
            # Beside what another place would cost there is no room for it.
            y = y - 4 if looked.other else self._lines(ink_told(found, names), y - 4, self._quiet)
            home = f"{place_told('home', found.place)} {reach_told(found.place, neck_map)}"
            y = self._lines(home, y, Style(Face.TEXT, 21, theme.ink))
        self._draw_others(looked, y + 4)

    def _draw_others(self, looked: LookedAt, y: float) -> None:
        """Its other places with what each would cost: the picked one in whole sentences, the others in a row each as
        far as there is room.
        """
        if self.shelf is None:
            self._lines(say("map.shelf.counting"), y, self._quiet)
            return
        costs = self.shelf.costs_of(self.sheet.neck_map, looked.sounding)
        picked = next((one for one in costs if one.place == looked.other), None)
        if picked is not None:
            y = self._draw_picked(picked, y)
        elif costs and self.context.settings.by_microphone and not self.context.devices.instruments.taken_over:
            y = self._lines(say("map.by_microphone"), y, self._quiet)
        for cost in costs:
            if cost is not picked and y <= self._bottom:
                self._draw_other(cost, y)
                y += _ROW

    def _draw_picked(self, cost: MoveCost, y: float) -> float:
        accent = self.canvas.theme.accent
        y = self._lines(place_told("or", cost.place), y, Style(Face.TITLE, 22, accent))
        return self._lines(cost_told(cost, self.sheet.neck_map), y, Style(Face.TEXT, 21, accent)) + 2

    def _draw_other(self, cost: MoveCost, y: float) -> None:
        """Its string and fret, and in a few words what it costs; how often only where that has room."""
        style, width = Style(Face.TEXT, 20, self.canvas.theme.accent), self._right - WORDS_LEFT
        for told in row_told(cost, self.sheet.neck_map):
            text, style = fitted(self.canvas, told, style, width)
            if text == told:
                break
        self.canvas.write(text, (WORDS_LEFT, y), style)


def _told_with_words(figures: ShelfFigures) -> list[tuple[str, str]]:
    words = ("wholly", "homeless", "stretches", "movement")
    return [(say(f"map.shelf.{word}"), told) for word, told in zip(words, _told(figures), strict=True)]


def _told(figures: ShelfFigures) -> list[str]:
    return [
        say("map.shelf.of", count=figures.wholly, total=figures.tunes),
        say("map.shelf.notes", count=figures.homeless),
        say("map.percent", share=figures.stretch_share),
        say("map.movement", movement=figures.movement),
    ]


def _told_before(before: ShelfFigures, now: ShelfFigures) -> list[str]:
    """What each figure was; empty where it is the same. How many tunes there are is said once."""
    told = _told(before)
    shown = [say("map.shelf.notes", count=before.wholly), *told[1:]]
    return ["" if same else old for same, old in zip(map(str.__eq__, told, _told(now)), shown, strict=True)]
