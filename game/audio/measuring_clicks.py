"""Clicks at irregular times, to be heard back by a microphone. They leave by the same way as the metronome's, so that
what is measured with them holds for those.
"""

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt
from pygame import mixer

from game.audio.blocks import Strike, blocks_of
from game.audio.channel_group import MixerChannel
from game.audio.output import METRONOME_CHANNEL, SoundOutput
from game.audio.player import BlockPlayer
from game.clock import Clock

LEAD_IN_S = 0.5
"""Silence before the first click: whatever sounded before has died away, and the card has settled."""

_TAIL_S = 0.1
_FULL = 32767

SoundOfRate = Callable[[int], npt.NDArray[np.float32]]
"""A sound at any sample rate, mono, -1 to 1."""


def _channel() -> MixerChannel:
    return mixer.Channel(METRONOME_CHANNEL)


class MeasuringClicks:
    """One row of them at a time; the metronome is silent meanwhile."""

    def __init__(self, output: SoundOutput, *, channel: Callable[[], MixerChannel] = _channel) -> None:
        self._output = output
        self._player = BlockPlayer(output, channel)

    def start(
        self,
        sound: SoundOfRate,
        onsets_s: Sequence[float],
        clock: Clock,
        *,
        loudness: float,
        pause: Callable[[float], None],
    ) -> float:
        """Sound it at each of `onsets_s`, rising, in seconds from the first; `loudness` is a factor, 0 to 1. Returns
        when the mixer takes onset 0, by the clock, without any delay from there to the ear.
        """
        rate = self._output.rate
        wave = np.rint(np.clip(sound(rate) * loudness, -1, 1) * _FULL).astype(np.int16)
        strikes = (Strike(sample=round((LEAD_IN_S + onset_s) * rate), wave=wave) for onset_s in onsets_s)
        end_s = LEAD_IN_S + onsets_s[-1] + _TAIL_S
        self._player.prepare(blocks_of(strikes, rate=rate, end_sample=round(end_s * rate)))
        return self._player.start(clock, pause=pause) + LEAD_IN_S

    @property
    def playing(self) -> bool:
        """Whether they are under way."""
        return self._player.playing

    def tick(self, now_s: float) -> None:
        """Once a frame."""
        self._player.tick(now_s)

    def stop(self) -> None:
        """Fall silent at once."""
        self._player.stop()

    def device_lost(self) -> None:
        """The sound device was taken away."""
        self._player.lose()
