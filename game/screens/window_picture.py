"""The picture in the window: the screen or the part of it that is in view, the strip below, and what lies on them."""

from dataclasses import replace

import pygame

from game.desk.kit.slip import SLIP_WIDTH, SlipRoom, draw_slip, slip_height
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.desk_motion import DeskMotion
from game.screens.enlarged_view import EnlargedView
from game.screens.foot_strip import FootStrip
from game.screens.keys_sheet import KeysSheet
from game.screens.window_size import back_to_window, fill_screen, fitted, open_window
from game.text.catalogue import say

# Where a message lies on a view of a larger sheet, and how much of its shadow is kept with it, in units.
_SLIP_TOP, _BELOW_SLIP = 6.0, 24.0
FRAMES_A_SECOND = 60
# What changes by itself without moving, such as help that is due, is on screen after this at the latest.
_LOOK_EVERY_S = 0.2
# Keys that are held while another is pressed.
_HELD = (pygame.K_LCTRL, pygame.K_RCTRL, pygame.K_LSHIFT, pygame.K_RSHIFT, pygame.K_LALT, pygame.K_RALT)
_WITH_A_PLACE = (pygame.MOUSEBUTTONDOWN, pygame.MOUSEBUTTONUP, pygame.MOUSEMOTION)


class WindowPicture:
    """Draws a screen into the window, `surface`, and says where on the screen the mouse is."""

    def __init__(self, context: ScreenContext, surface: pygame.Surface) -> None:
        self.surface, self._context = surface, context
        self.view = EnlargedView(context, surface)
        self.keys = KeysSheet(context)
        self.motion = DeskMotion(context)
        self._strip = FootStrip(context)
        self._slip_shows: object = None
        self._slip, self._slip_rect = pygame.Surface((0, 0)), pygame.Rect(0, 0, 0, 0)
        self._framed_size: tuple[int, int] | None = None
        self._next_frame_s = self._next_look_s = 0.0

    def turn_page(self, screen: BaseScreen) -> None:
        """The corner of a screen leads on. Where text is larger than the window nothing sweeps over it."""
        if not self.view.enlarged:
            self.motion.turn_page(self.surface, screen)

    def take_hold(self) -> None:
        """The player plays: no page is being turned any more, and the view goes back to what is read."""
        self.motion.end()
        self.view.follow_again()

    def draw_if_due(self, screen: BaseScreen, *, happened: bool) -> bool:
        """Draw at once where something `happened`, sixty times a second while something moves, and else now and then;
        returns whether anything was drawn.
        """
        now_s = self._context.clock.now_s()
        due = now_s >= self._next_frame_s
        if happened or now_s >= self._next_look_s or (due and (screen.moving or self.motion.moving(screen))):
            self.draw(screen)
            self._next_look_s = now_s + _LOOK_EVERY_S
        elif due and self.keys.shown is None and self.view.moving(now_s):
            self.draw_view(screen)
        else:
            return False
        self._next_frame_s = now_s + 1 / FRAMES_A_SECOND
        return True

    def draw(self, screen: BaseScreen) -> None:
        """The picture of now."""
        if self.view.outdated:
            self._fit(screen)
        if self.keys.shown is not None:
            if not self.keys.drawn:
                self._draw_screen(screen)
            self.keys.draw(self.view.canvas)
        else:
            self._draw_screen(screen)

    def _draw_screen(self, screen: BaseScreen) -> None:
        """The screen with what moves on it, or what is in view of it."""
        if self.view.enlarged:
            screen.draw(self.view.surface)
            self.draw_view(screen)
        else:
            self.motion.draw(screen, self.surface)

    def draw_view(self, screen: BaseScreen) -> None:
        """The part that is in view now of an enlarged screen as it was drawn last."""
        now_s = self._context.clock.now_s()
        self.view.follow(screen, now_s)
        self.view.show(now_s)
        self._strip.draw(self.view.canvas)
        if self._context.message_shown:
            self._draw_slip(screen)

    def _draw_slip(self, screen: BaseScreen) -> None:
        """The slip with a message on a view that may move: once it has slid in, its picture is kept."""
        canvas, message = self.view.canvas, self._context.window.message
        room = SlipRoom((canvas.sheet.size[0] / canvas.sheet.unit - SLIP_WIDTH) / 2, _SLIP_TOP)
        shown = self.motion.slip_shown(screen)
        if shown < 1:
            draw_slip(canvas, message, room, shown=shown)
            return
        shows = message, canvas.sheet, canvas.theme
        if shows != self._slip_shows:
            height = canvas.px(_SLIP_TOP + slip_height(canvas, message) + _BELOW_SLIP)
            self._slip = pygame.Surface((canvas.sheet.size[0], height), pygame.SRCALPHA)
            draw_slip(replace(canvas, surface=self._slip), message, room)
            self._slip_shows, self._slip_rect = shows, self._slip.get_bounding_rect()
        self.surface.blit(self._slip, self._slip_rect, self._slip_rect)

    def on_screen(self, event: pygame.event.Event) -> pygame.event.Event | None:
        """What an event means to the screen: a click into the box of a key is the press of that key, another comes
        where it is on the sheet. None for one that only moves the view.
        """
        now_s = self._context.clock.now_s()
        if event.type == pygame.WINDOWLEAVE:
            self.view.mouse_at(None, now_s)
            return None
        if event.type == pygame.MOUSEMOTION and not any(event.buttons):
            self.view.mouse_at(event.pos, now_s)
            if self.surface.get_height() - self._strip.height_px <= event.pos[1] < self.view.height:
                self._strip.take_words_away()
            return None
        return self._placed(event, now_s) if event.type in _WITH_A_PLACE else event

    def take(self, event: pygame.event.Event, screen: BaseScreen) -> bool:
        """Take what is for the window and not for the screen; returns whether this was: F1, F11, and where text is
        larger than the window, Ctrl with an arrow. Any other key brings what it is about into view.
        """
        if self.keys.take(event, screen):
            return True
        if event.type != pygame.KEYDOWN:
            return False
        if event.mod & pygame.KMOD_CTRL and self.view.move_by_key(event.key, self._context.clock.now_s()):
            return True
        if event.key not in _HELD:
            self.view.follow_again()
        if event.key == pygame.K_F11:
            self._turn_full_screen(screen)
        return bool(event.key == pygame.K_F11)

    def _placed(self, event: pygame.event.Event, now_s: float) -> pygame.event.Event | None:
        """A click as the press of a key, or where it is on the sheet; None beside the keys of the strip."""
        clicked = event.type == pygame.MOUSEBUTTONDOWN and event.button == 1
        if self.keys.shown is None and self.view.enlarged:
            in_strip = event.pos[1] >= self.surface.get_height() - self._strip.height_px
            if in_strip and event.type == pygame.MOUSEBUTTONDOWN:
                press = self._strip.press_at(event.pos) if clicked else None
                return press.event if press else None
            event = pygame.event.Event(event.type, {**event.dict, "pos": self.view.on_sheet(event.pos, now_s)})
        press = self._context.window.press_at(event.pos) if clicked else None
        return press.event if press else event

    def _turn_full_screen(self, screen: BaseScreen) -> None:
        """The window fills the screen, or goes back to the size it had before."""
        if self._framed_size is None:
            self._framed_size = self.surface.get_size()
            fill_screen()
        else:
            back_to_window(self._framed_size)
            self._framed_size = None
        self.resize(screen)

    def resize(self, screen: BaseScreen) -> None:
        """The window has another size: one that can be drawn."""
        surface = pygame.display.get_surface()
        size = fitted(surface.get_size())
        if size != surface.get_size():
            if size[0] < surface.get_width() or size[1] < surface.get_height():
                self._context.say(say("window.too_large", width=size[0], height=size[1]))
            surface = open_window(size)
        self.surface = surface
        self._fit(screen)

    def _fit(self, screen: BaseScreen) -> None:
        self.view.fit(self.surface)
        self.keys.take_away()
        screen.resized()
