"""The app on a table: no window, a clock set by hand, notes and keys handed in."""

from pathlib import Path

import pygame

from game.app import App, open_window
from game.clock import HandClock
from game.desk.surroundings import Surroundings
from game.instrument.played import NoteStarted, PlayedNote
from game.neck.tuning import Place
from game.screens.destinations import OpenTune, ToPage, open_tune
from game.settings import Settings
from tests.made import score

FRAME_S = 1 / 60


class Table:
    """One game. `play`, `key` and `click` do what a player does; `wait` lets frames go by."""

    def __init__(self, folder: Path, settings: Settings | None = None, size: tuple[int, int] = (1280, 720)) -> None:
        pygame.display.init()
        pygame.font.init()
        self.clock = HandClock(100.0)
        self.around = Surroundings(
            clock=self.clock, settings=settings or Settings(), settings_path=folder / "settings.json"
        )
        self.app = App(open_window(size), self.around)
        self.app.step([])

    @property
    def screen(self):
        return self.app.screen

    @property
    def screen_name(self) -> str:
        return type(self.app.screen).__name__

    def open(self, *rows: str, key: int = 0) -> OpenTune:
        tune = open_tune(score(*rows, key=key), self.around.settings.neck_map())
        self.go(ToPage(tune))
        return tune

    def go(self, destination) -> None:
        self.app.go(destination)
        self.app.step([])

    def wait(self, seconds: float, frame_s: float = FRAME_S) -> None:
        for _ in range(max(1, round(seconds / frame_s))):
            self.clock.advance(frame_s)
            self.app.step([])

    def play(self, sounding: int, place: Place | None = None, *, off_neck=None) -> None:
        """A note at its home, or at a place; `place` given as False comes from a keyboard."""
        home = self.around.settings.neck_map().home_of(sounding)
        where = None if place is False else place or (home.place if home else None)
        note = PlayedNote(started_s=self.clock.now_s(), sounding=sounding, place=where, source="test guitar")
        self.app.hear(NoteStarted(note=note, channel=1, off_neck=off_neck))
        self.wait(0.1)

    def key(self, key: int, text: str = "", *, scancode: int = 0, mod: int = 0) -> None:
        event = pygame.event.Event(pygame.KEYDOWN, key=key, unicode=text, mod=mod, scancode=scancode)
        self.app.step([event])

    def letters(self, text: str) -> None:
        for letter in text:
            self.key(ord(letter), letter)

    def click(self, at: tuple[float, float]) -> None:
        position = (round(at[0]), round(at[1]))
        self.app.step([pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=position, button=1)])
