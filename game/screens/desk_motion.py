"""What moves on the desk from one screen to the next: the page that is turned, and a slip that slides in.

Both are told by the clock, never by frames. What is uncovered is drawn whole from the first moment on, and whoever
plays, presses or clicks ends the turning: nothing lies over music that is being read.
"""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.ground import READING_TOP, TABBED_TOP, ground
from game.desk.kit.page_turn import PAGE_TURN_S, draw_page_turn
from game.desk.kit.slip import SlipRoom, draw_slip, free_room, slip_rooms
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext

SLIP_S: Final = 0.35
"""So long a slip moves."""

_AT_EDGE, _BELOW_TITLE, _BESIDE_TITLE, _BELOW_HEADING = 6.0, 138.0, 72.0, 98.0
_STEP, _ABOVE_FOOT = 20, 190.0


@dataclass(slots=True)
class _Turning:
    """A page being turned: its picture, where its paper began, when it was taken up, and what lies below it."""

    before: pygame.Surface
    top: float
    began_s: float
    below: pygame.Surface
    drawn: bool = False


class DeskMotion:
    """The motion of one window."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._turning: _Turning | None = None
        self._slip_of: object = None
        self._room = SlipRoom(0.0, _AT_EDGE)

    def turn_page(self, before: pygame.Surface, screen: BaseScreen) -> None:
        """The corner of this picture of a screen leads on: turn it over, unless the desk is to keep still."""
        self.end()
        if not self._context.settings.still_desk:
            top = READING_TOP if screen.tab is None else TABBED_TOP
            self._turning = _Turning(before.copy(), top, self._context.clock.now_s(), before.copy())

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

    def draw(self, screen: BaseScreen, surface: pygame.Surface) -> None:
        """Draw a screen, what is left of the page that is turned over it, and the slip with a message."""
        turning, context = self._turning, self._context
        if turning is not None and context.clock.now_s() - turning.began_s >= PAGE_TURN_S:
            self.end()
            turning = None
        fresh = screen.draw(surface) if turning is None else self._draw_turning(turning, screen, surface)
        if fresh and context.message_shown:
            canvas = Canvas(surface, context.sheet, context.theme)
            room = self._slip_room(screen, surface if turning is None else turning.below)
            draw_slip(canvas, context.window.message, room, shown=self.slip_shown(screen))

    def _draw_turning(self, turning: _Turning, screen: BaseScreen, surface: pygame.Surface) -> bool:
        context = self._context
        if not turning.drawn or screen.moving:
            screen.draw(turning.below)
            turning.drawn = True
        surface.blit(turning.below, (0, 0))
        share = (context.clock.now_s() - turning.began_s) / PAGE_TURN_S
        draw_page_turn(Canvas(surface, context.sheet, context.theme), turning.before, turning.top, max(0.0, share))
        return True

    def _slip_room(self, screen: BaseScreen, picture: pygame.Surface) -> SlipRoom:
        """Where the message lies: found once for each, on this part of this screen and in this size of the window."""
        context = self._context
        message = (context.window.message, id(screen), screen.part, context.sheet)
        if message != self._slip_of:
            self._slip_of = message
            paper_top = READING_TOP if screen.tab is None else TABBED_TOP
            canvas = Canvas(picture, context.sheet, context.theme)
            empty = ground(context.sheet.size, context.theme, paper_top)
            rooms = slip_rooms(canvas, slip_tops(screen, canvas), only_wide=screen.in_take)
            self._room = free_room(canvas, context.window.message, empty, rooms, context.window.boxes)
        return self._room


def slip_tops(screen: BaseScreen, canvas: Canvas) -> tuple[float, ...]:
    """Where the upper edge of a slip may lie: at the edge of the window, and where music is read nowhere else; on
    sheets with tabs below the title, or beside it.
    """
    if screen.in_take:
        return (_AT_EDGE,)
    if screen.tab is None:
        return (_AT_EDGE, *_below_title(canvas), _BELOW_HEADING)
    return (*_below_title(canvas), _BESIDE_TITLE)


def every_slip_top(canvas: Canvas) -> tuple[float, ...]:
    """All of them, on whatever screen."""
    return (_AT_EDGE, *_below_title(canvas), _BELOW_HEADING, _BESIDE_TITLE)


def _below_title(canvas: Canvas) -> tuple[float, ...]:
    height = canvas.sheet.size[1] / canvas.sheet.unit
    return tuple(_BELOW_TITLE + _STEP * step for step in range(int((height - _ABOVE_FOOT - _BELOW_TITLE) / _STEP)))
