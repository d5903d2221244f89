"""The pitch soon after a pluck, when the body's thump (100 to 200 Hz) can look like an octave too low."""

from math import log2

import numpy as np

from game.instrument.listening.difference_function import Estimate, estimate_of
from game.instrument.listening.range_heard import LOWEST_PITCH
from game.instrument.listening.sample_history import Samples
from game.instrument.listening.semitones import SAME_PITCH

_THUMP_S = 0.1
"""So long after the pluck the thump may be heard."""
_BELIEVED = 0.65
"""Of this clarity the higher pitch of the brightened sound is believed."""
_MULTIPLES = (12, 19.02, 24, 27.86, 31.02)
"""Semitones of the second to sixth partial over the pitch."""
_APART_CLEAR = 0.9
"""Of two pitches of which one is a partial of the other, the higher is the note's where it is as clear as this."""
_SURE_CLEAR = 0.93
_COMBED_CLEAR = 0.8
_DOUBTFUL_CLEAR = 0.69
"""What may be only a common period is made no clearer than this."""
_PARTIALS = 8


def new_estimate(
    raw: Samples,
    clean: Samples,
    combed: Samples,
    *,
    rate: float,
    age_s: float,
    old_pitch: float,
    lowest: float = LOWEST_PITCH,
) -> Estimate:
    """The pitch of what was plucked `age_s` before the end of a window: `raw` as it sounds, `clean` without what would
    ring of the note before it, of `old_pitch`, `combed` without anything of its period.

    Two notes at once repeat with a period of both, lower than either, and so does a note from which a string is taken
    out that was damped. So the higher of two is believed where they are partials of each other.
    """
    found = early_estimate(clean, rate, age_s, lowest)
    if raw is not clean:
        whole = early_estimate(raw, rate, age_s, lowest)
        if whole.is_in_range and not _is_same(whole.pitch, old_pitch):
            found = _of_two(found, whole)
    is_common = is_any_partial(old_pitch - found.pitch)
    if found.clarity >= _SURE_CLEAR and not is_common:
        return found
    alone = early_estimate(combed, rate, age_s, lowest)
    if is_common:
        if alone.clarity >= _COMBED_CLEAR and is_any_partial(alone.pitch - found.pitch):
            return Estimate(alone.pitch, min(alone.clarity, found.clarity))
        is_octave = _is_same(old_pitch, found.pitch + 12)
        is_own = _is_same(alone.pitch, found.pitch) and alone.clarity >= (_COMBED_CLEAR if is_octave else _SURE_CLEAR)
        return found if is_own else Estimate(found.pitch, min(found.clarity, _DOUBTFUL_CLEAR))
    if alone.is_in_range and alone.clarity > found.clarity and not _is_same(alone.pitch, old_pitch):
        return _of_two(found, alone)
    return found


def _of_two(first: Estimate, second: Estimate) -> Estimate:
    low, high = sorted((first, second), key=lambda estimate: estimate.pitch)
    if is_partial(high.pitch - low.pitch):
        return high if high.clarity >= _APART_CLEAR else low
    return max(first, second, key=lambda estimate: estimate.clarity)


def _is_same(pitch: float, other: float) -> bool:
    return abs(pitch - other) < SAME_PITCH


def is_partial(above: float) -> bool:
    """Whether a pitch so many semitones above another is its second to sixth partial."""
    return any(abs(above - multiple) < SAME_PITCH for multiple in _MULTIPLES)


def early_estimate(window: Samples, rate: float, age_s: float, lowest: float = LOWEST_PITCH) -> Estimate:
    """The pitch of a window that ends `age_s` after the pluck: of the differenced sound, which has less of the thump,
    where that is a partial of what the sound itself seems to be.
    """
    plain = estimate_of(window, rate, lowest)
    if age_s >= _THUMP_S:
        return plain
    bright = estimate_of(np.diff(window), rate, lowest)
    if bright.clarity > _BELIEVED and is_partial(bright.pitch - plain.pitch):
        return Estimate(bright.pitch, min(plain.clarity, bright.clarity))
    return plain


def is_any_partial(above: float) -> bool:
    """Whether a pitch so many semitones above another is its second to eighth partial."""
    return any(abs(above - 12 * log2(number)) < SAME_PITCH for number in range(2, _PARTIALS + 1))
