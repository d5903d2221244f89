"""A recording gone through once, before it is heard: which of its channels hold the guitar, how loud they are,
and where the wave was cut off.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Frames = NDArray[np.float32]
"""Samples of all channels: one row a moment, one column a channel."""

_LOUD_PARTS = 95
"""In a hundred blocks, the one louder than so many tells how loud the playing is: neither rests nor a thump do."""
_MOSTLY = 75
"""The same for which channel it is on: a click sounds for less of the time than a guitar, however loud."""
_ALIKE = 0.9
"""Channels that go along with each other so closely hold one sound (ours); two microphones apart do not."""
_FULL_SCALE = 0.999
_BEYOND = 1.0001
"""Samples in floating point may lie above full scale, and are whole."""
_IN_A_ROW = 3
"""So many samples at full scale are no peak, they are cut off (trade)."""
_LEAST = 1e-10


@dataclass(slots=True)
class ChannelSurvey:
    """What was found of `channels` channels at `rate` samples a second. Changed by `take_in`.

    Which channel is loudest is asked of the sound's changes from sample to sample: hum, which may be loudest where
    nothing is plugged in, counts little there.
    """

    rate: int
    channels: int
    frames: int = 0
    first_no_number_s: float | None = None
    peak: float = 0.0
    _powers: list[NDArray[np.float64]] = field(default_factory=list)
    _changes: list[NDArray[np.float64]] = field(default_factory=list)
    _together: NDArray[np.float64] = field(init=False)
    _clipped: NDArray[np.int64] = field(init=False)

    def __post_init__(self) -> None:
        self._together = np.zeros((self.channels, self.channels))
        self._clipped = np.zeros(self.channels, dtype=np.int64)

    def take_in(self, block: Frames) -> None:
        """The next part of the recording, some hundredths of a second of it."""
        whole = np.isfinite(block)
        if not whole.all() and self.first_no_number_s is None:
            self.first_no_number_s = (self.frames + int(np.argmin(whole.all(axis=1)))) / self.rate
        self.frames += len(block)
        sound = np.where(whole, block, 0).astype(np.float64)
        changes = np.diff(sound, axis=0)
        level = sound - sound.mean(axis=0)
        self._together += level.T @ level
        self._powers.append(np.var(sound, axis=0))
        self._changes.append(np.mean(np.square(changes), axis=0) if len(changes) else np.zeros(self.channels))
        highest = float(np.abs(sound).max(initial=0))
        self.peak = max(self.peak, highest)
        if highest >= _FULL_SCALE:
            self._clipped += _cut_off(sound)

    def guitar(self) -> tuple[int, ...]:
        """The channels that hold the guitar, from 0: the one on which most sounds for most of the time, and those that
        hold the same.
        """
        loudness = np.percentile(np.array(self._changes), _MOSTLY, axis=0)
        if not loudness.any():
            loudness = np.diag(self._together)
        loudest = int(np.argmax(loudness))
        powers = np.sqrt(np.diag(self._together))
        alike = self._together[loudest] >= _ALIKE * powers * powers[loudest]
        alike &= powers > 0
        alike[loudest] = True
        return tuple(int(channel) for channel in np.flatnonzero(alike))

    def level_db(self, used: tuple[int, ...]) -> float:
        """How loud the playing is on the channels used, in dB against full scale."""
        powers = np.array(self._powers)[:, list(used)].mean(axis=1)
        return _db(float(np.percentile(powers, _LOUD_PARTS)))

    def clipped(self, used: tuple[int, ...]) -> int:
        """In how many places the wave is cut off on the channels used."""
        return int(self._clipped[list(used)].max())


def _cut_off(sound: NDArray[np.float64]) -> NDArray[np.int64]:
    size = np.abs(sound)
    full = (size >= _FULL_SCALE) & (size <= _BEYOND)
    if len(full) < _IN_A_ROW:
        return np.zeros(sound.shape[1], dtype=np.int64)
    rows = full[:-2] & full[1:-1] & full[2:]
    begun = rows.copy()
    begun[1:] &= ~rows[:-1]
    return np.asarray(begun.sum(axis=0), dtype=np.int64)


def _db(power: float) -> float:
    return 10 * float(np.log10(max(power, _LEAST)))
