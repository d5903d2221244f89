"""Where a pluck begins, to under a millisecond: the jump of a short envelope of the differenced sound.

Differences are loud where the sound is bright, as the touch of pick or finger on the string is.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from game.instrument.listening.sample_history import SampleHistory, Samples

_SLOT_S = 0.00073
_SPAN, _BACK = 72, 46
"""Slots that are looked at, and how many of the last may hold the beginning."""
_BEFORE = 18
"""Slots whose loudest the attack must leave behind: 13 ms, a whole period of any note that rings."""
_FIRST_JUMP = 0.85
"""The attack is the first jump of this share of the greatest."""
_LOUDNESS = 0.25
"""The power by which the loudness of a jump counts, beside its ratio."""
_AFTER_S, _BEFORE_S = (0.0034, 0.0227), (0.0204, 0.0011)
"""What is compared: from and to so long after, and before."""
_LOUDER, _BRIGHTER, _LOUD = 1.03, 1.15, 1.15
"""Of 200 plucks 5 % made it less than 1.05 times as loud, of 60 steps from fret to fret and taps 90 % did."""
_SILENT = 1e-5
_AT_ONCE_S, _PLUCKED_S = 0.02, 0.1
"""How long a pluck's own brightness lasts, and until when what comes after it is compared."""
_FOOT = 0.12
"""From its top the attack is followed down to this share of its height."""


@dataclass(frozen=True, slots=True)
class Attack:
    """The number of the sample it begins at, and how loud it is, as the differenced sound's rms; by how much the sound
    just after it is louder than just before, as a ratio of rms, and the differenced sound.
    """

    at: int
    strength: float
    louder: float
    brighter: float

    @property
    def adds_nothing(self) -> bool:
        """Whether the sound goes on as it was: a string is being damped, a finger passes over a fret or touches it."""
        return self.louder < _LOUDER and self.brighter < _BRIGHTER

    @property
    def is_loud(self) -> bool:
        """Whether it brings a sound certainly, of whatever kind."""
        return self.louder > _LOUD


def last_attack(history: SampleHistory, rate: float) -> Attack:
    """The greatest jump within the last 34 ms."""
    slot = max(round(_SLOT_S * rate), 1)
    envelope = _envelope(history.last(slot * _SPAN + 1), slot)
    at = _greatest_jump(envelope)
    top = float(envelope[at : at + 8].max())
    base = float(envelope[max(at - 12, 0) : max(at - 2, 1)].mean())
    lowest = _SPAN - _BACK
    while at > lowest and envelope[at - 1] > base + _FOOT * (top - base):
        at -= 1
    return _compared(history, rate, history.end - (_SPAN - at) * slot, top)


def bright_at_once(history: SampleHistory, rate: float, at: int) -> float:
    """How bright the first 20 ms of what began at sample `at` are against the brightest 20 ms until 100 ms after it, as
    a ratio of the differenced sound's rms; 1 where too little came after it. A plucked string is bright at once, and
    ever less then; a voice grows bright as the mouth opens.
    """
    length = round(_AT_ONCE_S * rate)
    sound = np.diff(history.between(at, min(at + round(_PLUCKED_S * rate), history.end)))
    sums = np.concatenate((np.zeros(1), np.cumsum(sound**2)))
    if len(sums) <= 2 * length:
        return 1.0
    later = float((sums[2 * length :] - sums[length:-length]).max())
    return sqrt(float(sums[length]) / later) if later > 0 else 1.0


def _compared(history: SampleHistory, rate: float, at: int, top: float) -> Attack:
    after = history.between(*(at + round(seconds * rate) for seconds in _AFTER_S))
    before = history.between(*(at - round(seconds * rate) for seconds in _BEFORE_S))
    bright = (_rms(np.diff(after)) + _SILENT) / (_rms(np.diff(before)) + _SILENT)
    return Attack(at, top, (_rms(after) + _SILENT) / (_rms(before) + _SILENT), bright)


def _rms(samples: Samples) -> float:
    return sqrt(float(samples @ samples) / max(len(samples), 1))


def _envelope(samples: Samples, slot: int) -> Samples:
    """The rms of the differenced sound, slot by slot."""
    differences = np.diff(samples).reshape(_SPAN, slot)
    envelope: Samples = np.sqrt(np.einsum("ij,ij->i", differences, differences) / slot)
    return envelope


def _greatest_jump(envelope: Samples) -> int:
    first, end = _SPAN - _BACK, _SPAN - 2
    before = np.lib.stride_tricks.sliding_window_view(envelope, _BEFORE - 1)[first - _BEFORE : end - _BEFORE].max(
        axis=1
    )
    here = envelope[first:end]
    jumps = np.maximum(here, envelope[first + 1 : end + 1]) / (before + 0.03 * here.max() + 1e-6)
    jumps = jumps * here**_LOUDNESS
    return int(np.argmax(jumps > _FIRST_JUMP * jumps.max())) + first
