"""What is heard: one output, the metronome and the strings, at one volume. Opened after the first frame."""

import time
from collections.abc import Callable, Sequence

from game.audio.metronome import Metronome
from game.audio.output import SoundOutput, SoundStatus, open_output
from game.audio.played_line import Line, StringPlayer
from game.clock import Clock
from game.errors import AudioError
from game.player.settings import Settings
from game.text.catalogue import say


class Sound:
    """All sound of the game. Without a device everything works the same in silence, and `status` says so."""

    def __init__(
        self, output: SoundOutput, settings: Settings, *, pause: Callable[[float], None] | None = None
    ) -> None:
        self._pause = pause or time.sleep
        self.metronome = Metronome(output, volume=settings.volume)
        self.strings = StringPlayer(output, volume=settings.volume)

    @property
    def status(self) -> str:
        """A sentence for the page where nothing is heard or it cannot be trusted, otherwise empty."""
        status = self.metronome.status
        return "" if status is SoundStatus.SOUNDING else say(f"sound.{status.value}")

    def set_volume(self, volume: float) -> None:
        """0 to 1, for everything."""
        self.metronome.volume = volume
        self.strings.volume = volume

    def start_clicks(self, clock: Clock) -> float:
        """Begin the count-in; the clock time of the music's time 0."""
        return self.metronome.start(clock, pause=self._pause)

    def make_ready(self, soundings: Sequence[int]) -> None:
        """Render strings beforehand, so that none is rendered in a take."""
        self.strings.make_ready(soundings)

    def pluck(self, sounding: int) -> None:
        """Sound a note; silent where no string of ours reaches."""
        try:
            self.strings.pluck(sounding)
        except AudioError:
            return

    def play(self, lines: Sequence[Line], clock: Clock) -> None:
        """Play lines together from their beginning."""
        self.strings.play(lines, clock, pause=self._pause)

    def tick(self, now_s: float) -> None:
        """Once a frame."""
        self.metronome.tick(now_s)
        self.strings.tick(now_s)

    def device_lost(self) -> None:
        """The sound device was taken away."""
        self.metronome.device_lost()
        self.strings.device_lost()


def open_sound(settings: Settings, *, anew: bool = False) -> Sound:
    """Open the sound device, if there is one; `anew` after it was lost or another came."""
    return Sound(open_output(anew=anew), settings)


def silence(settings: Settings) -> Sound:
    """No device and no waiting for one: for demos and tests."""
    return Sound(SoundOutput(), settings, pause=lambda _: None)
