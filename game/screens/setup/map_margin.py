"""What is said beside the map: of the note looked at, of a change that was asked for, or how far all have come."""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.boxed_key import HIT_HEIGHT, draw_key, draw_words
from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.typography import Face
from game.music.pitch import pitch
from game.neck.tuning import Place
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.setup.map_choice import LookedAt
from game.screens.setup.map_sheet import RIGHT_MARGIN, WORDS_LEFT, MapSheet
from game.screens.setup.map_words import ink_told, named, note_and_line, place_told, reach_told
from game.text.catalogue import say

_TOP: Final = 348.0


@dataclass(frozen=True, slots=True)
class MapMargin:
    """The column beside the neck."""

    canvas: Canvas
    context: ScreenContext
    sheet: MapSheet

    @property
    def _quiet(self) -> Style:
        return Style(Face.ITALIC, 21, self.canvas.theme.faded)

    def _lines(self, text: str, y: float, style: Style) -> float:
        width = self.sheet.size[0] - RIGHT_MARGIN - WORDS_LEFT
        return draw_text_lines(self.canvas, text, (WORDS_LEFT, y), style, width)

    def draw_question(self, told: str) -> None:
        """What would change."""
        self._lines(told, _TOP, Style(Face.TEXT, 23, self.canvas.theme.ink))

    @property
    def question_rect(self) -> pygame.Rect:
        """The pixels where that stands."""
        right = self.sheet.size[0] - RIGHT_MARGIN
        return self.canvas.rect(WORDS_LEFT, _TOP - 30, right - WORDS_LEFT, self.sheet.foot - _TOP)

    def draw_legend(self) -> None:
        """What can be done here, and how many pitches are in ink, in pencil and not met."""
        y = self._lines(say("map.explain"), _TOP, self._quiet) + 8
        counts, style = self.sheet.ink.counts, Style(Face.TEXT, 22, self.canvas.theme.ink)
        y = self._lines(say("ink.in_ink", count=counts.ink), y, style)
        y = self._lines(say("ink.in_pencil", count=counts.pencil), y, style)
        self._lines(say("ink.not_met", count=counts.not_met), y, style)

    def draw_note(self, looked: LookedAt) -> None:
        """What there is to say of a note, one below the other."""
        theme, names, neck_map = self.canvas.theme, self.context.settings.note_names, self.sheet.neck_map
        heading = Style(Face.TITLE, 27, theme.ink)
        found = next((one for one in self.sheet.ink.pitches if one.sounding == looked.sounding), None)
        if found is None:
            y = self._lines(named(looked.sounding, neck_map, names), _TOP, heading)
            y = self._lines(say("map.no_home"), y, self._quiet)
        else:
            written = pitch(found.shown.written)
            y = self._lines(note_and_line(written, names, neck_map.reading.clef), _TOP, heading)
            y = self._lines(ink_told(found, names), y, self._quiet)
            y = self._lines(place_told("home", found.place), y + 2, Style(Face.TEXT, 23, theme.ink))
            y = self._lines(reach_told(found.place, neck_map.position), y, self._quiet)
        if looked.other is not None:
            self._draw_other(looked.other, y + 12)

    def _draw_other(self, place: Place, y: float) -> None:
        """Where else it could be, and the key that makes it so."""
        accent, window = self.canvas.theme.accent, self.context.window
        y = self._lines(place_told("or", place), y, Style(Face.TEXT, 23, accent))
        y = self._lines(reach_told(place, self.sheet.neck_map.position), y, self._quiet)
        (hint,) = key_hints(("keys.insert", "map.make_home"))
        box = draw_key(self.canvas, hint.labels[0], (WORDS_LEFT, y + 4), accent)
        words = draw_words(self.canvas, hint.meaning, (box.right / self.canvas.sheet.unit + 9, y + 4))
        hit = box.union(words)
        window.let_click(hit.inflate(0, max(0, self.canvas.px(HIT_HEIGHT) - hit.height)), hint.presses[0])
        window.tell_keys((hint,))
