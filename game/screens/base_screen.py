"""What a screen is: it takes what happens and says where that leads, if anywhere."""

from typing import Protocol

import pygame

from game.instrument.decoding.played import NoteRevised, NoteStarted
from game.instrument.decoding.stamped import StampedMessage
from game.screens.context import ScreenContext
from game.screens.routes import Destination
from game.text.catalogue import say


class Screen(Protocol):
    """One screen. What it is told may lead elsewhere; None stays here. `reading` while a take is going on."""

    reading: bool

    @property
    def moving(self) -> bool:
        """Whether the picture changes from frame to frame now."""
        ...

    def handle(self, event: pygame.event.Event) -> Destination | None:
        """A key or a click."""
        ...

    def hear(self, event: NoteStarted) -> Destination | None:
        """A note from whatever is played on."""
        ...

    def revise(self, event: NoteRevised) -> None:
        """A note that was heard turns out to be another, or none."""
        ...

    def pressed(self, at_s: float) -> None:
        """A pedal was pressed: it commands as the free open string does."""
        ...

    def message(self, stamped: StampedMessage) -> None:
        """A message as an instrument sent it: for the screens that set instruments up."""
        ...

    def device_lost(self, name: str, *, was_playing: bool) -> None:
        """An instrument went away; `was_playing` when it was the one listened to."""
        ...

    def device_found(self, name: str) -> None:
        """An instrument came, or came back."""
        ...

    def tick(self, now_s: float) -> Destination | None:
        """Time has passed."""
        ...

    def resized(self) -> None:
        """The window or the look has changed; nothing of a take is lost."""
        ...

    def draw(self, surface: pygame.Surface) -> bool:
        """Draw what has changed; returns whether the whole window was drawn anew."""
        ...


class BaseScreen:
    """A screen on which, by default, nothing happens by itself: noodling is heard and ignored."""

    reading = False

    @property
    def moving(self) -> bool:
        return False

    def __init__(self, around: ScreenContext) -> None:
        self.around = around

    def handle(self, event: pygame.event.Event) -> Destination | None:  # noqa: ARG002 - part of the interface
        return None

    def hear(self, event: NoteStarted) -> Destination | None:  # noqa: ARG002
        return None

    def revise(self, event: NoteRevised) -> None:  # noqa: ARG002
        return

    def pressed(self, at_s: float) -> None:  # noqa: ARG002
        return

    def message(self, stamped: StampedMessage) -> None:  # noqa: ARG002
        return

    def device_lost(self, name: str, *, was_playing: bool) -> None:  # noqa: ARG002
        self.around.say(say("device.lost", device=name))

    def device_found(self, name: str) -> None:
        self.around.say(say("device.found", device=name))

    def tick(self, now_s: float) -> Destination | None:  # noqa: ARG002
        return None

    def resized(self) -> None:
        return
