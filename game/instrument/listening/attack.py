"""Where a pluck begins, to under a millisecond: the jump of a short envelope of the differenced sound.

Differences are loud where the sound is bright, as the touch of pick or finger on the string is.
"""

from dataclasses import dataclass

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
_FOOT = 0.12
"""From its top the attack is followed down to this share of its height."""


@dataclass(frozen=True, slots=True)
class Attack:
    """The number of the sample it begins at, and how loud it is, as the differenced sound's rms."""

    at: int
    strength: float


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
    return Attack(history.end - (_SPAN - at) * slot, top)


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
