"""A simulated player at the real app: what `homefret demo` shows, and what tests drive.

Time is a clock set by hand. In a window it moves on with the frames, sixty a second; without waiting it jumps from note
to note. Either way the same takes come out, for event times decide, not frames.
"""

from collections.abc import Iterable
from pathlib import Path
from random import Random
from typing import Any

import pygame

from game.app import FRAMES_A_SECOND, App, open_window
from game.clock import HandClock
from game.coach.stages import Stage
from game.desk.account import advice_of
from game.desk.surroundings import Surroundings
from game.instrument.played import NoteStarted
from game.instrument.simulated import MIDDLING, Mistake, SimulatedPlayer, answer
from game.music.names import spelling_of
from game.screens.destinations import OpenTune, ToPage, open_tune
from game.screens.letters_page import LettersPage
from game.screens.places_page import PlacesPage
from game.screens.result import ResultScreen
from game.settings import Settings
from game.tunes.library import open_entry, shipped_entries

_TUNES = 2
_PASSAGES = 2
# A name takes about as long as this to be found and said.
_NAMING_S = 0.7
_PAUSE_S = 2.5


class Demonstration:
    """One run of the demo. `takes` and `files` grow while it plays."""

    def __init__(self, folder: Path, chance: Random, *, fast: bool) -> None:
        self._folder, self._chance, self._fast = folder, chance, fast
        self.takes: list[dict[str, Any]] = []
        self.files: list[Path] = []
        pygame.display.init()
        pygame.font.init()
        self._clock = HandClock()
        around = Surroundings(clock=self._clock, settings=Settings(), settings_path=folder / "settings.json")
        around.instrument_present = True
        self.app = App(open_window(), around)
        self._pacer = pygame.time.Clock()

    def play(self) -> None:
        """From the shelf through letters and places on some passages."""
        self._step()
        self._keep_picture("shelf")
        for index, entry in enumerate(shipped_entries()[:_TUNES], start=1):
            tune = open_tune(open_entry(entry), self.app.around.settings.neck_map())
            if index == 1:
                self._letters(tune.in_stage(Stage.LETTERS))
            for number, _ in enumerate(tune.passages[:_PASSAGES], start=1):
                self._places(tune, f"tune-{index}-passage-{number}")
                tune = tune.moved(1)
        pygame.display.quit()

    def _letters(self, tune: OpenTune) -> None:
        page = self._open(tune)
        assert isinstance(page, LettersPage)
        half_way = len(tune.passage.notes) // 2
        for index, note in enumerate(tune.passage.notes):
            self._wait(_NAMING_S)
            spelling = spelling_of(note.pitch)
            for key in [pygame.K_UP if spelling.alter > 0 else pygame.K_DOWN] * abs(spelling.alter):
                self._step([pygame.event.Event(pygame.KEYDOWN, key=key, unicode="", mod=0, scancode=0)])
            letter = spelling.step.lower()
            self._step([pygame.event.Event(pygame.KEYDOWN, key=ord(letter), unicode=letter, mod=0, scancode=0)])
            if index == half_way:
                self._wait(0.5)
                self._keep_picture("letters")
        self._finish(tune, "letters-result")

    def _places(self, tune: OpenTune, name: str) -> None:
        page = self._open(tune)
        assert isinstance(page, PlacesPage)
        self._wait(0.5)
        self._keep_picture(f"{name}-before")
        player = SimulatedPlayer(homes=tune.neck_map.places, shares=self._shares())
        attempt, asked_s, asked = 1, self._clock.now_s(), page.take.asked
        while asked is not None:
            given = answer(player, asked.note, attempt=attempt, asked_s=asked_s, rng=self._chance)
            self._wait(given.note.started_s - self._clock.now_s())
            self.app.hear(NoteStarted(note=given.note, channel=given.note.place.string if given.note.place else 1))
            self._step()
            now_asked = page.take.asked
            attempt = attempt + 1 if now_asked is asked else 1
            asked, asked_s = now_asked, given.note.started_s
        self._keep_picture(f"{name}-after")
        self._finish(tune, f"{name}-result")

    def _shares(self) -> dict[Mistake, float]:
        """How often it goes wrong: less from take to take."""
        return {mistake: share / (1 + 0.5 * len(self.takes)) for mistake, share in MIDDLING.items()}

    def _open(self, tune: OpenTune) -> object:
        self.app.go(ToPage(tune))
        self._step()
        return self.app.screen

    def _finish(self, tune: OpenTune, picture: str) -> None:
        while not isinstance(self.app.screen, ResultScreen):
            self._wait(1 / FRAMES_A_SECOND)
        finished = self.app.screen.finished
        self._step()
        self._keep_picture(picture)
        self.takes.append(
            {
                "day": 1,
                "tune": tune.score.title,
                "stage": tune.stage.value,
                "tempo": None,
                "notes": finished.asked,
                "clean": finished.clean,
                "reason": advice_of(finished, last=tune.last, next_bars=self.app.screen.next_bars),
            }
        )
        self._wait(_PAUSE_S)

    def _wait(self, seconds: float) -> None:
        """Let time pass: frame by frame where somebody looks on, at once where nobody does."""
        end_s = self._clock.now_s() + max(0.0, seconds)
        frames = 1 if self._fast else max(1, round(max(0.0, seconds) * FRAMES_A_SECOND))
        for frame in range(1, frames + 1):
            self._clock.advance((end_s - self._clock.now_s()) / (frames - frame + 1))
            self._step()
            if not self._fast:
                self._pacer.tick(FRAMES_A_SECOND)

    def _step(self, events: Iterable[pygame.event.Event] = ()) -> None:
        pygame.event.pump()
        self.app.step(events)
        pygame.display.flip()

    def _keep_picture(self, name: str) -> None:
        path = self._folder / f"{len(self.files) + 1:02}-{name}.png"
        pygame.image.save(self.app.surface, path)
        self.files.append(path)
