"""Progress: three figures, which are its chapters. Where much has to be added up first, it says so before it does."""

import pygame

from game.desk.kit.canvas import Canvas
from game.errors import LogError
from game.report.student import WEEK
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.progress.progress_chapters import Chapter, chapters
from game.screens.progress.progress_figures import Progress, is_slow, progress_of
from game.screens.progress.progress_sheet import ProgressSheet
from game.screens.routes import Back, Route, ToToday
from game.screens.shown_keys import draw_keys
from game.screens.tabbed_sheet import SheetTab, draw_next, lay_sheet
from game.text.catalogue import say

_CHAPTERS, _TO_CORNER = 3, 24.0


class ProgressScreen(BaseScreen):
    """What the practice came to."""

    tab = SheetTab.PROGRESS
    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.progress = Progress()
        self.chosen = 0
        self._waits = self._said = False
        self.read_anew()

    def read_anew(self) -> None:
        """The log may hold more, also of another computer."""
        try:
            self._waits, self._said = is_slow(self.context.session), False
            if not self._waits:
                self._add_up()
        except LogError as error:
            self.context.say_error(error)

    def _add_up(self) -> None:
        self.progress = progress_of(self.context.session)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return ToToday()
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self.chosen = (self.chosen + (1 if event.key == pygame.K_RIGHT else -1)) % _CHAPTERS
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click on a figure opens its chapter."""
        sheet = ProgressSheet(Canvas(pygame.Surface((1, 1)), self.context.sheet, self.context.theme))
        for number in range(_CHAPTERS):
            if sheet.figure_rect(number).collidepoint(at):
                self.chosen = number
        return None

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        if self._waits and self._said:
            self._waits = False
            try:
                self._add_up()
            except LogError as error:
                self.context.say_error(error)
        return None

    @property
    def chapters(self) -> tuple[Chapter, ...]:
        """What is told now."""
        return chapters(self.progress, self.context.settings.note_names)

    def draw(self, surface: pygame.Surface) -> bool:
        sheet = ProgressSheet(lay_sheet(self.context, surface, SheetTab.PROGRESS))
        told = self.chapters
        for number, chapter in enumerate(told):
            sheet.draw_figure(number, chapter, chosen=number == self.chosen)
        self.context.window.follow(sheet.figure_rect(self.chosen))
        if self._waits:
            sheet.draw_note(say("progress.adding_up"))
        else:
            sheet.draw_words(told[self.chosen])
            sheet.draw_chart(told[self.chosen])
        corner = draw_next(self.context, surface, say("corner.today"), above=self._week())
        keys = key_hints(("keys.arrows", "keys.chapter"), ("keys.escape", "keys.today"))
        right = corner.left / sheet.canvas.sheet.unit - _TO_CORNER
        draw_keys(self.context, surface, keys, right=right)
        self._said = True
        return True

    def _week(self) -> str:
        """Days and minutes of the week that ends with the last day of practice."""
        days = self.progress.days
        week = [day for day in days if (days[-1].day - day.day).days < WEEK]
        return say("progress.week", count=len(week), minutes=round(sum(day.minutes for day in week))) if week else ""
