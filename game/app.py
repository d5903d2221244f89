"""The app: builds the parts, and owns the step that everything happens in.

`step` takes in what happened since the last one, lets the screen answer, and draws. `run` only calls it; tests call it
themselves, with a clock of their own.
"""

import gc
import sys
from collections.abc import Iterable
from pathlib import Path

import pygame

from game.desk.paper import set_line
from game.desk.sheet import SMALLEST, Sheet
from game.desk.surroundings import Surroundings
from game.desk.type import Face, fitted
from game.desk.words import say
from game.errors import HomefretError
from game.instrument.hearing import KeyboardSetup, Setup
from game.instrument.live import LiveInstrument
from game.instrument.played import NoteStarted
from game.instrument.ports import DeviceFound, DeviceLost, DeviceRefused
from game.instrument.strings import StringsSetup, channels_from
from game.neck.tuning import tuning_named
from game.screens.destinations import (
    Destination,
    Leave,
    ToMap,
    ToPage,
    ToResult,
    ToSettings,
    ToShelf,
)
from game.screens.screen import Screen
from game.screens.shelf import ShelfScreen
from game.settings import InstrumentKind, Settings

FRAMES_A_SECOND = 60
_SWITCH_INTERVAL_S = 0.0005
# Five minutes' rest in each half hour is the usual advice (trade).
REST_AFTER_S = 25 * 60.0
FIRST_SIZE = (1280, 720)


def open_window(size: tuple[int, int] = FIRST_SIZE) -> pygame.Surface:
    """The window, drawn in software: the flip of an accelerated one costs several times as much for what we draw."""
    pygame.display.set_caption("Homefret")
    return pygame.display.set_mode(size, pygame.RESIZABLE)


class App:
    """The game in its window. Make it after the window is open."""

    def __init__(self, surface: pygame.Surface, around: Surroundings) -> None:
        self.surface = surface
        self.around = around
        around.sheet = Sheet(surface.get_size())
        self.live: LiveInstrument | None = None
        self.screen: Screen = ShelfScreen(around)
        self.running = True
        self._rested_s = around.clock.now_s()

    def listen(self, live: LiveInstrument) -> None:
        """Take notes from MIDI from now on."""
        self.live = live
        self.around.found, self.around.instrument_present = live.found, live.present

    def step(self, events: Iterable[pygame.event.Event]) -> None:
        """One frame: what happened, what it leads to, and the picture of it."""
        for event in events:
            self._take(event)
        self._listen()
        arrived = self.around.arrivals.poll()
        if arrived:
            self.around.say(arrived)
        if self.running:
            self.go(self.screen.tick(self.around.clock.now_s()))
            self.draw()

    def _take(self, event: pygame.event.Event) -> None:
        if event.type == pygame.QUIT:
            self.running = False
        elif event.type == pygame.VIDEORESIZE:
            self._resize()
        elif event.type == pygame.DROPFILE:
            self.around.say(self.around.arrivals.drop(Path(event.file)))
        else:
            self.go(self.screen.handle(event))

    def _resize(self) -> None:
        surface = pygame.display.get_surface()
        if surface is None:
            return
        if surface.get_width() < SMALLEST[0] or surface.get_height() < SMALLEST[1]:
            size = (max(SMALLEST[0], surface.get_width()), max(SMALLEST[1], surface.get_height()))
            surface = open_window(size)
        self.surface = surface
        self.around.sheet = Sheet(surface.get_size())
        self.screen.resized()

    def _listen(self) -> None:
        live = self.live
        if live is None:
            return
        for change in live.changes():
            if isinstance(change, DeviceLost):
                self.screen.device_lost(change.name, was_playing=change.was_playing)
            elif isinstance(change, DeviceFound):
                self.screen.device_found(change.name)
            else:
                assert isinstance(change, DeviceRefused)
                self.around.say(say("device.refused", device=change.name, reason=change.reason))
            self.around.found, self.around.instrument_present = live.found, live.present
        live.set_up(setup_from(self.around.settings))
        for started in live.notes():
            self.hear(started)

    def hear(self, started: NoteStarted) -> None:
        """A note from an instrument."""
        self.go(self.screen.hear(started))

    def go(self, destination: Destination | None) -> None:
        if destination is None:
            return
        if isinstance(destination, Leave):
            self.running = False
            return
        try:
            self.screen = self._built(destination)
        except HomefretError as error:
            self.around.say_error(error)
        self._mind_the_hands()
        # What was laid out stays; collecting it again and again would stop a frame for tens of milliseconds.
        gc.collect()
        gc.freeze()

    def _mind_the_hands(self) -> None:
        """Between takes, now and then, advise a break."""
        now_s = self.around.clock.now_s()
        if now_s - self._rested_s >= REST_AFTER_S and not self.screen.reading:
            self._rested_s = now_s
            self.around.say(say("care.rest"))

    def _built(self, destination: Destination) -> Screen:
        """The screen that stands at a destination. Imported here: the first frame needs only the shelf."""
        # ruff: noqa: PLC0415
        if isinstance(destination, ToPage):
            from game.screens.pages import page_for

            return page_for(self.around, destination.tune)
        if isinstance(destination, ToResult):
            from game.screens.result import ResultScreen

            return ResultScreen(self.around, destination)
        if isinstance(destination, ToMap):
            from game.screens.map_screen import MapScreen

            return MapScreen(self.around)
        if isinstance(destination, ToSettings):
            from game.screens.settings_screen import SettingsScreen

            return SettingsScreen(self.around)
        assert isinstance(destination, ToShelf)
        return ShelfScreen(self.around)

    def draw(self) -> None:
        """The picture of now."""
        self.screen.draw(self.surface)
        around = self.around
        if around.message_shown:
            sheet = around.sheet
            text = fitted(around.message, Face.ITALIC, sheet.small_px, sheet.text_area.width)
            at = (sheet.text_area.left, sheet.paper.bottom - sheet.px(68))
            set_line(self.surface, text, at, Face.ITALIC, sheet.small_px, around.theme.accent)


def setup_from(settings: Settings) -> Setup:
    """How the player's MIDI instrument reports."""
    if settings.instrument is InstrumentKind.KEYBOARD:
        return KeyboardSetup()
    return StringsSetup(
        channels=channels_from(settings.base_channel),
        tuning=tuning_named(settings.tuning),
        frets=settings.frets,
    )


def run(app: App) -> None:
    """Step until the player leaves."""
    sys.setswitchinterval(_SWITCH_INTERVAL_S)
    pacer = pygame.time.Clock()
    while app.running:
        app.step(pygame.event.get())
        pygame.display.flip()
        pacer.tick(FRAMES_A_SECOND)
