"""The pitch soon after a pluck, when the body's thump (100 to 200 Hz) can look like an octave too low."""

import numpy as np

from game.instrument.listening.difference_function import Estimate, estimate_of
from game.instrument.listening.sample_history import Samples

_THUMP_S = 0.06
"""So long after the pluck the thump may be heard."""
_BELIEVED = 0.8
"""Of this clarity the higher pitch of the brightened sound is believed."""
_MULTIPLES = (12, 19, 24)
"""Semitones of the second, third and fourth partial over the pitch."""
_APART_CLEAR = 0.9
"""Of two pitches of which one is a partial of the other, the higher is the note's where it is as clear as this."""
_SAME = 0.6
"""Semitones within which a pitch is the same."""


def new_estimate(raw: Samples, clean: Samples, *, rate: float, age_s: float, old_pitch: float) -> Estimate:
    """The pitch of what was plucked `age_s` before the end of a window: `raw` as it sounds, `clean` without what would
    ring of the note before it, of `old_pitch`.

    Two notes at once repeat with a period of both, lower than either, and so does a note from which a string is taken
    out that was damped. So the higher of the two is believed where they are partials of each other.
    """
    without = early_estimate(clean, rate, age_s)
    if raw is clean:
        return without
    whole = early_estimate(raw, rate, age_s)
    if abs(whole.pitch - old_pitch) < _SAME or not whole.is_in_range:
        return without
    if is_partial(whole.pitch - without.pitch):
        return whole if whole.clarity >= _APART_CLEAR else without
    if is_partial(without.pitch - whole.pitch):
        return without if without.clarity >= _APART_CLEAR else whole
    return max(without, whole, key=lambda estimate: estimate.clarity)


def is_partial(above: float) -> bool:
    """Whether a pitch so many semitones above another is its second, third or fourth partial."""
    return any(abs(above - multiple) < _SAME for multiple in _MULTIPLES)


def early_estimate(window: Samples, rate: float, age_s: float) -> Estimate:
    """The pitch of a window that ends `age_s` after the pluck: of the differenced sound, which has less of the thump,
    where that is a partial of what the sound itself seems to be.
    """
    plain = estimate_of(window, rate)
    if age_s >= _THUMP_S:
        return plain
    bright = estimate_of(np.diff(window), rate)
    if bright.clarity > _BELIEVED and is_partial(bright.pitch - plain.pitch):
        return Estimate(bright.pitch, min(plain.clarity, bright.clarity))
    return plain
