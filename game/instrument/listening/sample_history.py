"""The last seconds of a stream of samples, by their count from its beginning. Changed by `add`."""

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float64]


class SampleHistory:
    """Holds at least the last `length` samples; before the first there is silence."""

    def __init__(self, length: int) -> None:
        self._length = length
        self._held = np.zeros(4 * length)
        self._next = length  # where in `_held` the next sample goes
        self.end = 0
        """How many samples were added: the number of the next one."""

    def add(self, samples: Samples) -> None:
        """Add samples, at most `length` at a time."""
        if self._next + len(samples) > len(self._held):
            self._held[: self._length] = self._held[self._next - self._length : self._next]
            self._next = self._length
        self._held[self._next : self._next + len(samples)] = samples
        self._next += len(samples)
        self.end += len(samples)

    def between(self, first: int, end: int) -> Samples:
        """The samples from number `first` to before number `end`; shorter where they are not held any more, or not yet.

        It is a view, good until the next `add`.
        """
        first = max(first, self.end - self._length)
        end = max(min(end, self.end), first)
        offset = self._next - self.end
        return self._held[first + offset : end + offset]

    def last(self, count: int) -> Samples:
        """The newest `count` samples."""
        return self.between(self.end - count, self.end)
