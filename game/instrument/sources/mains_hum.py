"""How much mains hum there is in a recording: it is the same throughout, while notes come and go."""

import numpy as np
from numpy.typing import NDArray

_MAINS_HZ = (50, 60)
_HARMONICS = (1, 2, 3, 5, 7)
"""Of a single coil, the odd ones and what a rectifier adds (mem: guitar electronics)."""
_SELDOM = 20
"""In a hundred seconds, so many with the least at these frequencies: those in which no note lies there."""
_LEAST_DB = -100.0


class MainsHum:
    """Looks at one second after the other. `rate` is in samples a second. Changed by `take_in`."""

    def __init__(self, rate: int) -> None:
        at_s = np.arange(rate) / rate
        window = np.hanning(rate)
        heard = [np.exp(-2j * np.pi * mains * harmonic * at_s) for mains in _MAINS_HZ for harmonic in _HARMONICS]
        self._waves = np.array(heard) * (2 * window / window.sum())
        self._waiting: list[NDArray[np.float64]] = []
        self._length = 0
        self._powers: list[NDArray[np.float64]] = []

    def take_in(self, samples: NDArray[np.float64]) -> None:
        """The next samples of one channel, at most a second of them."""
        self._waiting.append(samples)
        self._length += len(samples)
        second = self._waves.shape[1]
        if self._length >= second:
            whole = np.concatenate(self._waiting)
            amplitudes = np.abs(self._waves @ whole[:second])
            self._powers.append(np.square(amplitudes).reshape(len(_MAINS_HZ), -1).sum(axis=1) / 2)
            self._waiting, self._length = [whole[second:]], self._length - second

    def level_db(self) -> float:
        """How loud the hum is, in dB against full scale; -100 for none, and for less than a second of sound."""
        if not self._powers:
            return _LEAST_DB
        power = float(np.percentile(np.array(self._powers), _SELDOM, axis=0).max())
        return max(10 * float(np.log10(max(power, 1e-10))), _LEAST_DB)
