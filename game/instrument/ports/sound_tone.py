"""The pitch that sounds now, for tuning: McLeod's normalised square difference over a tenth of a second.

P. McLeod, G. Wyvill, "A smarter way to find pitch", ICMC 2005. Used in the listening process alone.
"""

import numpy as np
from numpy.typing import NDArray

from game.instrument.listening.difference_function import square_difference
from game.instrument.ports.sound_input import Tone

LOWEST_HZ, HIGHEST_HZ = 28.0, 1_500.0
"""Below the lowest string of a bass with five, above the twelfth fret of a guitar's highest."""

WINDOW_S = 0.1
_CLEAR = 0.85
# The first peak so near the highest is the period; the highest of all may be several of them (McLeod: 0.8 to 1).
_NEAR = 0.9
_ENOUGH_RATE = 32_000


class ToneFinder:
    """Keeps the last tenth of a second of what it is fed. What is quieter than `floor_db` is no tone."""

    def __init__(self, rate: int, floor_db: float) -> None:
        self._every = max(1, rate // _ENOUGH_RATE)
        self._rate = rate / self._every
        self._floor = 10 ** (floor_db / 10)
        self._kept = np.zeros(round(WINDOW_S * self._rate), dtype=np.float32)
        self._waiting = np.zeros(0, dtype=np.float32)

    def feed(self, samples: NDArray[np.float32]) -> None:
        """Samples of one channel."""
        waiting = np.concatenate((self._waiting, samples))
        whole = len(waiting) // self._every * self._every
        self._waiting = waiting[whole:]
        fewer = waiting[:whole].reshape(-1, self._every).mean(axis=1)
        self._kept = np.concatenate((self._kept, fewer))[-len(self._kept) :]

    def tone(self) -> Tone | None:
        """What sounds; None in silence, and for what has no pitch."""
        sound = self._kept.astype(np.float64) - self._kept.mean(dtype=np.float64)
        if np.mean(sound**2) <= self._floor:
            return None
        longest = round(self._rate / LOWEST_HZ)
        alike = square_difference(sound, longest + 1)
        found = _first_high_peak(alike, round(self._rate / HIGHEST_HZ))
        if found is None or found[1] < _CLEAR:
            return None
        period, clarity = found
        pitch = 69 + 12 * float(np.log2(self._rate / period / 440))
        return Tone(pitch=pitch, clarity=min(1.0, clarity))


def _first_high_peak(alike: NDArray[np.float64], shortest: int) -> tuple[float, float] | None:
    """The lag of the first of the high peaks behind the one at 0, with its fraction, and its height."""
    below = np.flatnonzero(alike < 0)
    begin = max(int(below[0]) if len(below) else shortest, shortest)
    middle = alike[1:-1]
    peaks = np.flatnonzero((middle > alike[:-2]) & (middle >= alike[2:])) + 1
    peaks = peaks[(peaks >= begin) & (alike[peaks] > 0)]
    if not len(peaks):
        return None
    at = int(peaks[alike[peaks] >= _NEAR * alike[peaks].max()][0])
    left, top, right = (float(value) for value in alike[at - 1 : at + 2])
    bend = left - 2 * top + right
    aside = 0.5 * (left - right) / bend if bend < 0 else 0.0
    return at + aside, top - 0.25 * (left - right) * aside
