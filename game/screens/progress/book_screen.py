"""The book: the passages that have earned a mark, with the day of each and the tempo they have come to."""

from datetime import date

import pygame

from game.coach.marks import Mark
from game.desk.paper import draw_choice_mark, draw_heading, draw_text, draw_text_right
from game.desk.typography import Face, shortened
from game.errors import HomefretError, LogError
from game.lines.titles import title_told
from game.practice.take_request import request_for
from game.practice_log.queries.figure_records import PassageFigures
from game.practice_log.queries.figures import figures_of
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Route, ToPage, ToProgress
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import in_figures, on_day, say
from game.tunes.library.library import open_entry

MOST = 400
"""So many passages, those with the newest marks."""

_ROW, _TOP, _FOOT = 32, 132, 78
# Where the columns end, as shares of the width: the marks one by one, and the tempo.
_ENDS = {Mark.FOUND: 0.62, Mark.IN_TIME: 0.74, Mark.SIGNED_OFF: 0.87}
_TITLE_SHARE = 0.5


class BookScreen(BaseScreen):
    """The book of passages. Enter lays the chosen one on the desk."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.passages: tuple[PassageFigures, ...] = ()
        self.chosen = 0
        log = context.session.log
        try:
            with log.reading() as connection, figures_of(connection, log.player.uuid) as figures:
                self.passages = figures.newest_marked(MOST)
        except LogError as error:
            context.say_error(error)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return ToProgress()
        if event.key == pygame.K_RETURN and self.passages:
            return self._open(self.passages[self.chosen])
        steps = {pygame.K_UP: -1, pygame.K_DOWN: 1, pygame.K_PAGEUP: -self._rows, pygame.K_PAGEDOWN: self._rows}
        if event.key in steps and self.passages:
            self.chosen = min(max(self.chosen + steps[event.key], 0), len(self.passages) - 1)
        return None

    def _open(self, passage: PassageFigures) -> Route | None:
        context = self.context
        place = context.session.plan.find_passage(passage.key)
        if place is None:
            context.say(say("book.gone", title=title_told(passage.title)))
            return None
        try:
            request = request_for(open_entry(place.entry), context.settings.neck_map())
        except HomefretError as error:
            context.say_error(error)
            return None
        context.session.last_opened = place.entry
        return ToPage(request.moved(place.index))

    @property
    def _rows(self) -> int:
        """How many passages have room on the paper."""
        sheet = self.context.sheet
        room = sheet.paper.bottom - sheet.px(_FOOT) - sheet.text_area.top - sheet.px(_TOP)
        return max(1, room // sheet.px(_ROW))

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        below = say("book.count", count=len(self.passages)) if self.passages else say("book.empty")
        draw_heading(surface, sheet, theme, say("book.title"), below=below)
        if self.passages:
            y = area.top + sheet.px(_TOP - 34)
            for mark, end in _ENDS.items():
                self._cell(surface, say(f"book.{mark.value}"), end, y, Face.ITALIC)
            self._cell(surface, say("book.tempo"), 1.0, y, Face.ITALIC)
        first = max(0, min(self.chosen - self._rows // 2, len(self.passages) - self._rows))
        for row, passage in enumerate(self.passages[first : first + self._rows]):
            y = area.top + sheet.px(_TOP + _ROW * row)
            self._draw_passage(surface, passage, y, chosen=first + row == self.chosen)
        keys = (("keys.updown", "keys.choose"), ("keys.enter", "keys.read"), ("keys.escape", "keys.progress"))
        draw_keys(self.context, surface, key_hints(*(keys if self.passages else keys[-1:])))
        return True

    def _draw_passage(self, surface: pygame.Surface, passage: PassageFigures, y: int, *, chosen: bool) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        area = sheet.text_area
        indent = sheet.px(34)
        words = say("book.passage", title=title_told(passage.title), first=passage.first, last=passage.last)
        shown = shortened(words, Face.TEXT, sheet.small_px, round(area.width * _TITLE_SHARE) - indent)
        draw_text(surface, shown, (area.left + indent, y), Face.TEXT, sheet.small_px, theme.ink)
        if chosen:
            draw_choice_mark(surface, sheet, theme, y + sheet.small_px * 0.65)
        earned = {Mark(word): day for word, day in passage.marks}
        for mark, end in _ENDS.items():
            self._cell(surface, _day_said(earned.get(mark)), end, y, Face.FIGURES)
        self._cell(surface, _tempo_said(passage), 1.0, y, Face.FIGURES)

    def _cell(self, surface: pygame.Surface, words: str, end: float, y: int, face: Face) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        colour = theme.ink if face is Face.FIGURES else theme.faded
        right = sheet.text_area.left + round(end * sheet.text_area.width)
        draw_text_right(surface, words, (right, y), face, sheet.small_px, colour)


def _day_said(day: date | None) -> str:
    return on_day(day, "column") if day else ""


def _tempo_said(passage: PassageFigures) -> str:
    """The newest tempo and, where there is one, the target."""
    if passage.newest_bpm is None:
        return ""
    now, target = passage.newest_bpm, passage.target_bpm
    return say("book.tempo_of", now=now, target=target) if target else in_figures(now, ".0f")
