"""The end of a sitting: what came of it, and what comes tomorrow. Nothing is asked any more; Esc leaves the game."""

import pygame

from game.desk.kit.canvas import Canvas
from game.screens.base_screen import BaseScreen
from game.screens.choosing.good_night_drawing import GoodNightDrawing
from game.screens.choosing.good_night_words import good_night_sheet
from game.screens.context import ScreenContext
from game.screens.ink_sheet import ink_sheet
from game.screens.kept_picture import KeptPicture
from game.screens.key_hints import key_hints
from game.screens.routes import Leave, Route, ToToday
from game.screens.shown_keys import draw_keys, row_at
from game.screens.tabbed_sheet import ESCAPE, draw_next, free_string_told
from game.text.catalogue import say

_KEY_LEFT, _KEY_UP = 962.0, 112.0


class GoodNightScreen(BaseScreen):
    """That was today."""

    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._kept = KeptPicture(context)
        self._make()

    def _make(self) -> None:
        context = self.context
        self._sheet = good_night_sheet(context, context.session.sitting_end())
        self._ink = ink_sheet(context, new_on=context.session.today().toordinal())

    def read_anew(self) -> None:
        """Entries came from elsewhere."""
        self._make()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Leave()
        return ToToday() if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER) else None

    def resized(self) -> None:
        self._kept.forget()

    def draw(self, surface: pygame.Surface) -> bool:
        self._kept.show(surface, (self._sheet, self._ink), self._draw)
        return True

    def _draw(self, surface: pygame.Surface) -> None:
        context = self.context
        canvas = Canvas(surface, context.sheet, context.theme)
        GoodNightDrawing(canvas, self._sheet, self._ink).draw()
        self._draw_back(canvas)
        draw_next(context, surface, say("good_night.corner"), label=say("keys.escape"), press=ESCAPE)

    def _draw_back(self, canvas: Canvas) -> None:
        """The way back to Today, above the corner."""
        back = key_hints(("keys.enter", "keys.back_to_today"))
        width = canvas.sheet.size[0] / canvas.sheet.unit
        draw_keys(self.context, canvas.surface, back, left=_KEY_LEFT, right=width, row=row_at(_KEY_UP))
        self.context.window.tell_keys(free_string_told(self.context))
