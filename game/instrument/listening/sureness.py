"""Which notes could have been something else as well: doubtful when told, or not keeping their pitch.

Counted on 250 notes that were told rightly and 65 that were not, speech among them: each sign is on one to five of a
hundred right notes.
"""

from dataclasses import dataclass
from enum import Enum

from game.instrument.listening.attack import Attack
from game.instrument.listening.difference_function import Estimate

_CLEAR = 0.93
"""A pluck that made nothing louder must be as clear."""
_BRIGHT = 2.0
"""Or have made the sound so much brighter."""
_FELL = 0.5
"""A string that changes its pitch by itself keeps this share of its power at least."""
_KEEPS, _STAYS = 0.8, 0.3
"""A string repeats itself so clearly still when it is settled; where it does not, and this share of the power is there,
it never was one: a voice, a chair.
"""
_THUMP_PITCH, _THUMP_LEFT = 50.0, 0.03
"""Under it what has so little of its power left in a seventh of a second may be the body's thump alone."""
_WANDERS = 0.3
"""Semitones by which a voice wanders in a seventh of a second, and a string seldom."""

_AT_ONCE = 0.75
"""What is so much less bright in its first 20 ms than later was not plucked: of 1,403 plucks 8 were, of 63 syllables
51.
"""

_STANDS = 0.05
"""Semitones within which a soft finger's pluck holds its pitch, which may be as slow; a voice does not."""


class Kept(Enum):
    """What a note turns out to be when it is settled."""

    SURE = "sure"
    UNSURE = "unsure"
    NO_NOTE = "no note"


@dataclass(frozen=True, slots=True)
class Still:
    """What there is of a note when it is settled: how clear its period is, its power, the power of all that sounds, and
    by how many semitones its pitch has wandered.
    """

    clarity: float
    power: float
    all_power: float
    wandered: float


def is_sure_pluck(pluck: Attack, estimate: Estimate, *, rings_already: bool) -> bool:
    """Whether a pluck certainly is one, of this pitch; `rings_already` where the string sounded the same before."""
    return pluck.is_loud or (not rings_already and (estimate.clarity >= _CLEAR or pluck.brighter > _BRIGHT))


def is_sure_slur(power: float, power_before: float, *, is_mixed: bool) -> bool:
    """Whether a pitch that came without a pluck is a slur, and no pluck that was not heard."""
    return not is_mixed and power >= _FELL * power_before


def is_like_pluck(at_once: float, wandered: float) -> bool:
    """Whether a note began as a string that is plucked does, so bright at once, and kept its pitch, but for so many
    semitones, 0 where it was not followed for long enough.
    """
    return (at_once >= _AT_ONCE or 0 < wandered <= _STANDS) and wandered <= _WANDERS


def may_be_knock(pitch: float) -> bool:
    """Whether what was silent before it could be settled is as low as a knock on wood: a string of that pitch rings."""
    return pitch < _THUMP_PITCH


def kept(pitch: float, power: float, still: Still) -> Kept:
    """What a note of a pitch and a power turns out to be, from what there still is of it."""
    if still.clarity < _KEEPS and still.all_power >= _STAYS * power:
        return Kept.NO_NOTE
    is_thump = pitch < _THUMP_PITCH and (still.power < _THUMP_LEFT * power or still.clarity < _KEEPS)
    return Kept.UNSURE if is_thump or still.wandered > _WANDERS else Kept.SURE
