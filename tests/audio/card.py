"""A sound card of our own making: whole buffers, its own idea of a second, and stalls when told to."""

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
from pygame import mixer

from game.clock import HandClock

BUFFER, RATE = 512, 44100


@dataclass
class Card:
    """One channel of a card whose clock runs `drift` slower than ours (seconds a second)."""

    clock: HandClock
    drift: float = 0.0
    stalled_s: float = 0.0
    gone: bool = False
    heard: list[tuple[int, npt.NDArray[np.int16]]] = field(default_factory=list)
    _playing: tuple[int, int] | None = None
    _waiting: mixer.Sound | None = None
    volume: float = 1.0
    times_begun: int = 0
    """How often it was told to play, what waited behind that apart."""

    def card_sample(self) -> int:
        """How far the card has mixed: whole buffers."""
        if self.gone:
            return self._last
        running_s = (self.clock.now_s() - self.stalled_s) / (1 + self.drift)
        self._last = int(running_s * RATE // BUFFER + 1) * BUFFER
        return self._last

    _last: int = 0

    def clock_s(self, sample: int) -> float:
        """When a sample of the card is heard, by our clock, while it has not stalled; buffers' delay apart."""
        return sample / RATE * (1 + self.drift)

    def _begin(self, sound: mixer.Sound, at: int) -> None:
        raw = np.frombuffer(sound.get_raw(), np.int16).reshape(-1, 2)
        self.heard.append((at, raw))
        self._playing = (at, at + len(raw))

    def _advance(self) -> None:
        here = self.card_sample()
        while self._playing and self._playing[1] <= here - 1:
            at = self._playing[1]
            self._playing = None
            if self._waiting is not None:
                sound, self._waiting = self._waiting, None
                self._begin(sound, at)

    def play(self, sound: mixer.Sound) -> None:
        self._advance()
        self.times_begun += 1
        self._begin(sound, self.card_sample())
        self._waiting = None

    def queue(self, sound: mixer.Sound) -> None:
        self._advance()
        if self._playing is None:
            self.play(sound)
        else:
            self._waiting = sound

    def get_queue(self) -> mixer.Sound | None:
        self._advance()
        return self._waiting

    def get_busy(self) -> bool:
        self._advance()
        return self._playing is not None

    def set_volume(self, value: float) -> None:
        self.volume = value

    def stop(self) -> None:
        self._playing, self._waiting = None, None

    def onsets(self) -> list[int]:
        """Samples of the card at which a click begins."""
        last = self.heard[-1]
        first = self.heard[0][0]
        stream = np.zeros(last[0] + len(last[1]) - first, np.int16)
        for at, raw in self.heard:
            stream[at - first : at - first + len(raw)] = raw[:, 0]
        loud = np.flatnonzero(stream)
        return [int(sample) - 1 + first for sample in loud[np.diff(loud, prepend=-201) > 200]]


@dataclass
class Overtaken(Card):
    """So many `times` the card takes the end of a sound while the next is being queued: pygame believes that the sound
    still plays, and nothing ever begins what it keeps behind it.
    """

    times: int = 0

    def queue(self, sound: mixer.Sound) -> None:
        if self.times:
            self.times -= 1
            self._playing, self._waiting = None, sound
        else:
            super().queue(sound)
