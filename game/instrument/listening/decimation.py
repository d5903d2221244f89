"""High sample rates brought down to one the ear of the program works at. Pure.

Rates up to 56 kHz are left alone; higher ones are divided by a whole number, to between 37 and 56 kHz, behind a filter
that keeps what lies above half the new rate from folding down (windowed sinc, Blackman: 74 dB, Oppenheim & Schafer).
"""

import numpy as np

from game.instrument.listening.sample_history import Samples

_HIGHEST_RATE = 56_000
_TAPS_A_FACTOR = 16
"""Half the filter's length, in samples of the new rate."""
_PASSES = 0.8
"""The share of the new band that is left as it is: nothing of a guitar lies above."""


class Decimation:
    """Takes samples at `rate` and gives some at `working_rate`, `delay_s` late. Changed by `feed`."""

    def __init__(self, rate: int) -> None:
        self._factor = max(1, -(-rate // _HIGHEST_RATE))
        self.working_rate = rate / self._factor
        half = _TAPS_A_FACTOR * self._factor if self._factor > 1 else 0
        self.delay_s = half / rate
        at = np.arange(-half, half + 1)
        taps = np.sinc(at * _PASSES / self._factor) * np.blackman(2 * half + 3)[1:-1]
        self._taps = taps / taps.sum()
        self._held = np.zeros(2 * half)
        self._skip = 0  # samples until the next one that is kept

    def feed(self, samples: Samples) -> Samples:
        """The samples at the working rate that these bring, however they are cut."""
        if self._factor == 1:
            return samples
        whole = np.concatenate((self._held, samples))
        length = len(self._taps)
        self._held = whole[len(whole) - length + 1 :]
        first, self._skip = self._skip, (self._skip - len(samples)) % self._factor
        if first >= len(samples):
            return np.zeros(0)
        windows = np.lib.stride_tricks.sliding_window_view(whole, length)[first :: self._factor]
        # Row by row, so that the sums do not depend on how many rows there are.
        kept: Samples = np.einsum("ij,j->i", windows, self._taps)
        return kept
