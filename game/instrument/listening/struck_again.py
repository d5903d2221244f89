"""Whether a string that still rings was struck again at the same pitch, or something only knocked beside it.

A stroke does not continue what rang: taken out, it leaves something with the note's own period. And it makes what
repeats with that period louder, all of it or its bright part, which has rung away. A knock has no period.
"""

import numpy as np

from game.instrument.listening.difference_function import periodic_power
from game.instrument.listening.sample_history import Samples

_LEFT = 0.06
"""The share of what rang before that is left of a stroke once that was taken out, at least; of what only rings on it is
0.02 at most.
"""
_LOUDER = 1.12
"""The rise in power of a note that was struck again, at least."""
_BRIGHTER = 1.5
"""The same of the differenced sound."""


def is_struck_again(after: Samples, left: Samples, before: Samples, period: float) -> bool:
    """Whether the note of a period was struck: from the sound `after` the pluck, what is `left` of it without what
    rang, and as much of the sound `before`.
    """
    power_before = periodic_power(before, period)
    if periodic_power(left, period) >= _LEFT * power_before or periodic_power(after, period) >= _LOUDER * power_before:
        return True
    bright_after, bright_before = (periodic_power(np.diff(sound), period) for sound in (after, before))
    return bright_after >= _BRIGHTER * bright_before
