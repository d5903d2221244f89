"""A stream of samples as it is listened to, step by step: thinned out, freed of what lies below the strings, and kept
for a third of a second. Pure.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from game.instrument.listening.decimation import Decimation
from game.instrument.listening.high_pass import HighPass
from game.instrument.listening.range_heard import LOWEST_PITCH
from game.instrument.listening.sample_history import SampleHistory, Samples

LOWEST_RATE, HIGHEST_RATE = 16_000, 192_000
STEP_S = 0.0058
_HISTORY_S = 0.37
_CORNER_HZ = 68.0
"""Under the low E (82.4 Hz), and as far under a lower string."""
_LOUDEST = 16.0
"""Samples beyond it are faults of whoever gives them."""


class SteppedSound:
    """What was fed, at its own `rate` in samples a second: every number of samples is counted at that. Changed by
    `steps` and `step_of_silence`.

    `fed_rate` is that of the samples that are fed, 16,000 to 192,000 a second; `lowest` is the lowest pitch that is to
    pass (see `lowest_looked_for`). Raises `ValueError` for another rate.
    """

    def __init__(self, fed_rate: int, lowest: float = LOWEST_PITCH) -> None:
        if not LOWEST_RATE <= fed_rate <= HIGHEST_RATE:
            raise ValueError(f"cannot listen at {fed_rate} samples a second: only at {LOWEST_RATE} to {HIGHEST_RATE}")
        self._fed_rate = fed_rate
        self._decimation = Decimation(fed_rate)
        self.rate = self._decimation.working_rate
        self.step = 16 * round(STEP_S * self.rate / 16)
        """How many samples a step brings."""
        self._block = self.step * round(fed_rate / self.rate)
        self._waiting = np.zeros(0)
        self._fed = 0
        self._high_pass = HighPass(_CORNER_HZ * 2 ** ((lowest - LOWEST_PITCH) / 12), self.rate, self.step)
        self.history = SampleHistory(round(_HISTORY_S * self.rate))

    @property
    def now_s(self) -> float:
        """The time of the next sample that is fed, in seconds of the stream."""
        return self._fed / self._fed_rate

    def steps(self, samples: NDArray[np.float32]) -> Iterator[None]:
        """Take in samples of one channel, any number of them, and stop after each step that they make whole. How the
        stream is cut makes no difference. What is no number counts as silence.
        """
        sound = np.nan_to_num(np.asarray(samples, dtype=np.float64), nan=0.0, posinf=1.0, neginf=-1.0)
        self._fed += len(sound)
        waiting = np.concatenate((self._waiting, np.clip(sound, -_LOUDEST, _LOUDEST)))
        whole = len(waiting) // self._block * self._block
        self._waiting = waiting[whole:]
        for begin in range(0, whole, self._block):
            self._add(waiting[begin : begin + self._block])
            yield

    def step_of_silence(self) -> None:
        """One step more behind the end of the stream, of which no time is taken."""
        self._add(np.zeros(self._block))

    def _add(self, block: Samples) -> None:
        self.history.add(self._high_pass.feed(self._decimation.feed(block)))

    def count(self, seconds: float) -> int:
        """How many samples that is."""
        return round(seconds * self.rate)

    def heard_at_s(self, sample: int) -> float:
        """When a sample was fed, in seconds of the stream."""
        return max(sample / self.rate - self._decimation.delay_s, 0.0)


def rms(samples: Samples) -> float:
    """Their root mean square; 0 of none."""
    return float(np.sqrt(samples @ samples / max(len(samples), 1)))
