"""What is heard: one output, the metronome and the strings, at one volume. Opened after the first frame."""

import time
from collections.abc import Callable, Sequence

import pygame

from game.audio.metronome import Metronome
from game.audio.output import SoundOutput, SoundStatus, is_our_loss, open_output
from game.audio.played_line import PlayedLine, StringPlayer
from game.clock import Clock
from game.errors import AudioError


class Sound:
    """All sound of the game. Without a device everything works the same in silence, and `status` tells."""

    def __init__(self, output: SoundOutput, volume: float, *, pause: Callable[[float], None] | None = None) -> None:
        self._pause = pause or time.sleep
        self.metronome = Metronome(output, volume=volume)
        self.strings = StringPlayer(output, volume=volume)

    @property
    def status(self) -> SoundStatus:
        """Whether something is heard, and if not, why."""
        return self.metronome.status

    @property
    def sounds(self) -> bool:
        """Whether something is heard, as it should be."""
        return self.status is SoundStatus.SOUNDING

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

    def play(self, lines: Sequence[PlayedLine], clock: Clock) -> None:
        """Play lines together from their beginning."""
        self.strings.play(lines, clock, pause=self._pause)

    def stop(self) -> None:
        """Be silent at once."""
        self.metronome.stop()
        self.strings.stop()

    def tick(self, now_s: float) -> None:
        """Once a frame."""
        self.metronome.tick(now_s)
        self.strings.tick(now_s)

    def is_on(self, which: int, *, is_capture: bool) -> bool:
        """Whether SDL's AUDIODEVICEREMOVED event (its `which` and `iscapture`) is about the device this plays into."""
        return is_our_loss(which, is_capture=is_capture)

    def opened_again(self) -> "Sound":
        """The sound after a device came: opened anew, at the volume as it is."""
        return open_sound(self.metronome.volume, anew=True)

    def device_lost(self) -> None:
        """The sound device was taken away."""
        self.metronome.device_lost()
        self.strings.device_lost()


def open_sound(volume: float, *, anew: bool = False) -> Sound:
    """Open the sound device, if there is one, at a volume of 0 to 1; `anew` after it was lost or another came."""
    sound = Sound(open_output(anew=anew), volume)
    _forget_devices_found()
    return sound


def _forget_devices_found() -> None:
    """Opening announces every device that is there, as if it had come just now: who opens the sound again when one
    comes, and still hears nothing, would do so for ever.
    """
    if pygame.display.get_init():
        pygame.event.clear(pygame.AUDIODEVICEADDED)


def silence() -> Sound:
    """No device and no waiting for one: until one is opened, for demos and tests."""
    return Sound(SoundOutput(), 0.0, pause=lambda _: None)
