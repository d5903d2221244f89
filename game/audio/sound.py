"""What is heard: one output, the metronome, the strings and what accompanies them. Opened after the first frame."""

import time
from collections.abc import Callable, Sequence
from typing import Final

import pygame

from game.audio.measuring_clicks import MeasuringClicks, SoundOfRate
from game.audio.metronome import Metronome
from game.audio.output import SoundOutput, SoundStatus, gain, is_our_loss, open_output
from game.audio.played_line import PlayedAccompaniment, PlayedLine, StringPlayer
from game.clock import Clock
from game.errors import AudioError
from game.music.volumes import SILENT, Volumes

_CLICK_ROOM, _ROOM = 0.775, 0.895
"""Full volume: their squares, 0.6 and 0.8, are the factors at which accent, notes that ring into each other, bass and
chords come to less than full scale together (measured on rows of fast notes).
"""

_LEAST_MEASURED: Final = 0.3
"""Where the click is set to less, what is to be heard back is as loud as that at most (ours)."""


class Sound:
    """All sound of the game. Without a device everything works the same in silence, and `status` tells."""

    def __init__(self, output: SoundOutput, volumes: Volumes, *, pause: Callable[[float], None] | None = None) -> None:
        self._pause = pause or time.sleep
        self.metronome = Metronome(output)
        self.strings = StringPlayer(output)
        self.measuring = MeasuringClicks(output)
        self.volumes = volumes
        self.set_volumes(volumes)

    @property
    def status(self) -> SoundStatus:
        """Whether something is heard, and if not, why."""
        return self.metronome.status

    @property
    def sounds(self) -> bool:
        """Whether something is heard, as it should be."""
        return self.status is SoundStatus.SOUNDING

    def set_volumes(self, volumes: Volumes) -> None:
        """How loud each part is, at once. The loudest of all of them leave room for each other. What the click sounds
        like is heard from the next take on, and so is a capo.
        """
        self.volumes = volumes
        self.metronome.click_sound = volumes.click_sound
        self.metronome.set_raised(volumes.raised)
        self.strings.set_raised(volumes.raised)
        self.metronome.volume = _CLICK_ROOM * volumes.click
        self.strings.volume = _ROOM * volumes.guitar
        self.metronome.set_accompaniment_volume(_ROOM * volumes.accompaniment)
        self.strings.set_accompaniment_volume(_ROOM * volumes.accompaniment)

    def start_clicks(self, clock: Clock) -> float:
        """Begin the count-in; the clock time of the music's time 0."""
        return self.metronome.start(clock, pause=self._pause)

    def start_measuring(self, sound: SoundOfRate, onsets_s: Sequence[float], clock: Clock, *, share: float) -> float:
        """Sound something at irregular times, at a share, 0 to 1, of the loudness that is set for the click, or of a
        soft one where that is silent. Returns when onset 0 is heard, by the clock: as for the click, what the output is
        counted to take is in it already.
        """
        self.stop()
        loudness = share * gain(max(self.metronome.volume, _LEAST_MEASURED))
        began_s = self.measuring.start(sound, onsets_s, clock, loudness=loudness, pause=self._pause)
        return began_s + (self.metronome.output_delay_s if self.measuring.playing else 0.0)

    def make_ready(self, soundings: Sequence[int]) -> None:
        """Render strings beforehand, so that none is rendered in a take."""
        self.strings.make_ready(soundings)

    def pluck(self, sounding: int) -> None:
        """Sound a note; silent where no string of ours reaches."""
        try:
            self.strings.pluck(sounding)
        except AudioError:
            return

    def touch(self) -> None:
        """A pen touches the paper: where ink is earned, and never in a take."""
        self.strings.touch()

    def play(
        self, lines: Sequence[PlayedLine], clock: Clock, *, accompaniment: PlayedAccompaniment | None = None
    ) -> None:
        """Play lines together from their beginning."""
        self.strings.play(lines, clock, accompaniment=accompaniment, pause=self._pause)

    def stop(self) -> None:
        """Be silent at once."""
        self.metronome.stop()
        self.strings.stop()
        self.measuring.stop()

    def tick(self, now_s: float) -> None:
        """Once a frame."""
        self.metronome.tick(now_s)
        self.strings.tick(now_s)
        self.measuring.tick(now_s)

    def is_on(self, which: int, *, is_capture: bool) -> bool:
        """Whether SDL's AUDIODEVICEREMOVED event (its `which` and `iscapture`) is about the device this plays into."""
        return is_our_loss(which, is_capture=is_capture)

    def opened_again(self) -> "Sound":
        """The sound after a device came: opened anew, at the volumes as they are."""
        return open_sound(self.volumes, anew=True)

    def device_lost(self) -> None:
        """The sound device was taken away."""
        self.metronome.device_lost()
        self.strings.device_lost()
        self.measuring.device_lost()


def open_sound(volumes: Volumes, *, anew: bool = False) -> Sound:
    """Open the sound device, if there is one; `anew` after it was lost or another came."""
    sound = Sound(open_output(anew=anew), volumes)
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
    return Sound(SoundOutput(), SILENT, pause=lambda _: None)
