"""The sound device that goes and comes while the game runs."""

import pygame

from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.text.catalogue import say


class SoundDevice:
    """Watches for it. Without sound everything goes on in silence."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._came = False

    def removed(self, event: pygame.event.Event) -> None:
        """One was taken away: where it was ours, it is said."""
        sound = self._context.devices.sound
        if sound.is_on(event.which, is_capture=bool(event.iscapture)):
            sound.device_lost()
            self._context.say_sound()

    def added(self, event: pygame.event.Event, screen: BaseScreen) -> None:
        """One came."""
        self._came = not event.iscapture
        self.open_again(screen)

    def open_again(self, screen: BaseScreen) -> None:
        """Where nothing is heard the one that came is opened, but never in the middle of a take."""
        if not self._came or screen.in_take:
            return
        self._came = False
        devices = self._context.devices
        if not devices.sound.sounds:
            devices.sound = devices.sound.opened_again()
            if devices.sound.sounds:
                self._context.say(say("sound.back"))
