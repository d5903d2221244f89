"""How loud an input is, how much of it is mains hum, and what was clipped or lost. Used in the listening process
alone.
"""

import numpy as np
from numpy.typing import NDArray

from game.instrument.ports.sound_input import SILENCE_DB, SoundLevel

FULL_SCALE = 0.9995
"""What is as loud was cut off: converters end there, a little below 1 where they count from the other side."""

_LOUDNESS_S, _HUM_S = 0.3, 1.0
_HUM_RATE = 2_000
# The mains of the world have 50 or 60 Hz; what they leave in a guitar is the tone itself and its odd multiples.
_HUMS = tuple(tuple(mains * times for times in (1, 3, 5)) for mains in (50.0, 60.0))


class SoundMeter:
    """Measures what it is fed."""

    def __init__(self, rate: int) -> None:
        self._kept = np.zeros(round(_LOUDNESS_S * rate), dtype=np.float32)
        self._every = max(1, rate // _HUM_RATE)
        self._slow_rate = rate / self._every
        self._slow = np.zeros(round(_HUM_S * self._slow_rate), dtype=np.float32)
        self._waiting = np.zeros(0, dtype=np.float32)
        times_s = np.arange(len(self._slow)) / self._slow_rate
        window = np.hanning(len(self._slow))
        self._weight = float(window.sum())
        self._waves = [
            np.stack([window * np.exp(-2j * np.pi * frequency * times_s) for frequency in hum]) for hum in _HUMS
        ]
        self._clipped = self._lost = 0

    def feed(self, samples: NDArray[np.float32], *, lost: bool = False) -> None:
        """Samples of one channel; `lost` where some before them were lost."""
        self._lost += lost
        self._clipped += int(np.count_nonzero(np.abs(samples) >= FULL_SCALE))
        self._kept = _pushed(self._kept, samples)
        waiting = np.concatenate((self._waiting, samples))
        whole = len(waiting) // self._every * self._every
        self._waiting = waiting[whole:]
        self._slow = _pushed(self._slow, waiting[:whole].reshape(-1, self._every).mean(axis=1))

    def level(self) -> SoundLevel:
        """How loud it was in the last 0.3 s, and how much it hummed in the last second."""
        power = float(np.mean(np.square(self._kept, dtype=np.float64)))
        hums = [float(np.sum(np.abs(waves @ self._slow) ** 2)) * 2 / self._weight**2 for waves in self._waves]
        return SoundLevel(
            rms_db=_decibels(power),
            peak_db=_decibels(float(np.max(np.abs(self._kept))) ** 2),
            hum_db=_decibels(max(hums)),
            clipped=self._clipped,
            lost=self._lost,
        )


def _pushed(kept: NDArray[np.float32], samples: NDArray[np.float32]) -> NDArray[np.float32]:
    """The newest, as many as were kept before."""
    return samples[-len(kept) :] if len(samples) >= len(kept) else np.concatenate((kept[len(samples) :], samples))


def _decibels(power: float) -> float:
    if not power > 0:
        return SILENCE_DB
    return max(SILENCE_DB, float(10 * np.log10(power)))
