"""The real game with nobody at it: its time is a clock set by hand, and what is played comes from whoever drives it.

In a window time moves on with the frames, sixty a second; without waiting it jumps. Either way the same takes come out,
for event times decide, not frames.
"""

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random

import pygame

from game.app import App
from game.clock import HandClock
from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.instrument.sources.simulated import SOURCE
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings import Settings
from game.screens.context import ScreenContext
from game.screens.devices import Devices, StaticInstruments
from game.screens.window import Window
from game.screens.window_picture import FRAMES_A_SECOND
from game.screens.window_size import open_window

_FIRST_DAY = date(2026, 3, 2)
_MORNING_HOUR = 7


class DrivenGame:
    """A player's game; log and settings lie in `folder`. `fast` jumps from one thing to the next and shows nothing.
    `day` counts the days since the first; `chance` is for the music that is made.
    """

    def __init__(self, folder: Path, settings: Settings, chance: Random, *, fast: bool) -> None:
        self._fast = fast
        self.day = 0
        pygame.display.init()
        pygame.font.init()
        self.clock = HandClock()
        self._morning_s = self.clock.now_s()
        profile = Profile(name="", folder=folder, settings_path=folder / "settings.json")
        self.session = open_session(profile, self.clock, now=self._now, settings=settings)
        self.session.begin_practice()
        devices = Devices(instruments=StaticInstruments(present=True))
        self.app = App(open_window(), ScreenContext(session=self.session, devices=devices, window=Window()), chance)
        self._pacer = pygame.time.Clock()

    def _now(self) -> datetime:
        today = _FIRST_DAY + timedelta(days=self.day)
        morning = datetime(today.year, today.month, today.day, _MORNING_HOUR, tzinfo=UTC)
        return morning + timedelta(seconds=self.clock.now_s() - self._morning_s)

    def begin_day(self) -> None:
        """The morning of the next day."""
        self.day += 1
        self._morning_s = self.clock.now_s()

    def hear(self, sounding: int, *, at_s: float | None = None) -> None:
        """A note is played at its home, now or at a time on the clock."""
        home = self.app.context.settings.neck_map().home_of(sounding)
        place = home.place if home else None
        started_s = self.clock.now_s() if at_s is None else at_s
        note = PlayedNote(started_s=started_s, sounding=sounding, place=place, source=SOURCE)
        self.app.note_started(NoteStarted(note=note, channel=place.string if place else 1))
        self.step()

    def wait(self, seconds: float) -> None:
        """Let time pass: frame by frame where somebody looks on, at once where nobody does."""
        end_s = self.clock.now_s() + max(0.0, seconds)
        frames = 1 if self._fast else max(1, round(max(0.0, seconds) * FRAMES_A_SECOND))
        for frame in range(1, frames + 1):
            self.clock.advance((end_s - self.clock.now_s()) / (frames - frame + 1))
            self.step()
            if not self._fast:
                self._pacer.tick(FRAMES_A_SECOND)

    def step(self, events: Iterable[pygame.event.Event] = ()) -> None:
        """A frame. Where nobody looks on only what happens counts, and the picture is made when it is kept."""
        pygame.event.pump()
        if self._fast:
            self.app.take_in(events)
        else:
            self.app.step(events)
            pygame.display.flip()

    def save_picture(self, path: Path) -> None:
        """The picture as it is now, as a file."""
        self.app.draw()
        pygame.image.save(self.app.surface, path)

    def leave(self) -> Path:
        """Leave the game; returns where its log lies."""
        self.session.close()
        pygame.display.quit()
        return self.session.log.path
