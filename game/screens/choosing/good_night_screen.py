"""The end of a sitting: what came of it, and what comes tomorrow. Nothing is asked any more; Esc leaves the game."""

import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.ground import READING_TOP, draw_ground
from game.desk.typography import Face
from game.screens.base_screen import BaseScreen
from game.screens.key_hints import key_hints
from game.screens.routes import Leave, Route, ToToday
from game.screens.tabbed_sheet import ESCAPE, draw_next
from game.text.catalogue import say

_LEFT, _TITLE_BASELINE = 70.0, 90.0


class GoodNightScreen(BaseScreen):
    """That was today."""

    free_string_commands = True
    at_rest = True

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Leave()
        return ToToday() if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER) else None

    def draw(self, surface: pygame.Surface) -> bool:
        context = self.context
        context.window.begin_picture()
        canvas = Canvas(surface, context.sheet, context.theme)
        draw_ground(canvas, READING_TOP)
        title = Style(Face.TITLE, 44, context.theme.ink)
        canvas.write(say("good_night.title"), (_LEFT, _TITLE_BASELINE), title)
        context.window.tell_keys(key_hints(("keys.enter", "keys.today")))
        draw_next(context, surface, say("good_night.corner"), label=say("keys.escape"), press=ESCAPE)
        return True
