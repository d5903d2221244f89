"""What moves on the desk from one screen to the next: the page that is turned, and a slip that slides in.

Both are told by the clock, never by frames. What is uncovered is drawn whole from the first moment on, and whoever
plays, presses or clicks ends the turning: nothing lies over music that is being read.
"""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.ground import READING_TOP, TABBED_TOP
from game.desk.kit.page_turn import PAGE_TURN_S, draw_page_turn
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext

SLIP_S: Final = 0.35
"""So long a slip moves."""


@dataclass(slots=True)
class _Turning:
    """A page being turned: its picture, where its paper began, when it was taken up, and what lies below it."""

    before: pygame.Surface
    top: float
    began_s: float
    below: pygame.Surface | None = None


class DeskMotion:
    """The motion of one window."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._turning: _Turning | None = None

    def turn_page(self, before: pygame.Surface, screen: BaseScreen) -> None:
        """The corner of this picture of a screen leads on: turn it over, unless the desk is to keep still."""
        self.end()
        if not self._context.settings.still_desk:
            top = READING_TOP if screen.tab is None else TABBED_TOP
            self._turning = _Turning(before.copy(), top, self._context.clock.now_s())

    def end(self) -> None:
        """No page is being turned any more."""
        self._turning = None

    def moving(self, screen: BaseScreen) -> bool:
        """Whether the next picture is another than this one."""
        return self._turning is not None or self.slip_shown(screen) < 1

    def slip_shown(self, screen: BaseScreen) -> float:
        """How far a slip with a message has slid in, 0 to 1: at once where music is read, and on a still desk."""
        context = self._context
        if screen.in_take or context.settings.still_desk or not context.message_shown:
            return 1.0
        share = min(1.0, (context.clock.now_s() - context.window.message_since_s) / SLIP_S)
        return 1 - (1 - share) ** 3

    def draw(self, screen: BaseScreen, surface: pygame.Surface) -> bool:
        """Draw a screen, and on it what is left of the page that is turned; returns whether all was drawn anew."""
        turning, context = self._turning, self._context
        if turning is None:
            return screen.draw(surface)
        share = (context.clock.now_s() - turning.began_s) / PAGE_TURN_S
        if share >= 1:
            self.end()
            return screen.draw(surface)
        if turning.below is None or screen.moving:
            turning.below = turning.below or pygame.Surface(surface.get_size()).convert(surface)
            screen.draw(turning.below)
        surface.blit(turning.below, (0, 0))
        draw_page_turn(Canvas(surface, context.sheet, context.theme), turning.before, turning.top, max(0.0, share))
        return True
