"""What lies below the lowest string taken away: rumble, handling, offset, most of the mains' hum.

A Butterworth filter of second order, its recursion worked out a block at a time as matrices, which is exact: with the
state s and the block x, y = D x + O s, and the next s = A s + C x.
"""

from math import pi, sqrt, tan

import numpy as np

from game.instrument.listening.sample_history import Samples


class HighPass:
    """Passes what is above `corner_hz`, in blocks of `block` samples. Changed by `feed`."""

    def __init__(self, corner_hz: float, rate: float, block: int) -> None:
        warped = tan(pi * corner_hz / rate)
        scale = 1 + sqrt(2) * warped + warped**2
        over = np.array([1.0, -2.0, 1.0]) / scale
        first, second = 2 * (warped**2 - 1) / scale, (1 - sqrt(2) * warped + warped**2) / scale
        step = np.array([[-first, 1.0], [-second, 0.0]])
        enters = np.array([over[1] - first * over[0], over[2] - second * over[0]])
        powers = [np.eye(2)]
        for _ in range(block):
            powers.append(step @ powers[-1])
        response = np.array([over[0], *((power @ enters)[0] for power in powers[: block - 1])])
        lag = np.arange(block)[:, None] - np.arange(block)
        self._direct = np.where(lag >= 0, response[np.abs(lag)], 0.0)
        self._from_state = np.array([power[0] for power in powers[:block]])
        self._state_on = powers[block]
        self._into_state = np.array([power @ enters for power in powers[block - 1 :: -1]]).T
        self._state = np.zeros(2)

    def feed(self, samples: Samples) -> Samples:
        """One block, filtered."""
        passed: Samples = self._direct @ samples + self._from_state @ self._state
        self._state = self._state_on @ self._state + self._into_state @ samples
        return passed
