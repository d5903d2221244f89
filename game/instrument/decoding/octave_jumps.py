"""Jumps of octaves that no hand made: a pickup's guess put right, or a moment's error. Pure.

On one string an octave is twelve frets. No hand is there in a tenth of a second, and a pluck cannot follow without a
moment of silence, as the plectrum stops the string: a jump so soon, without that moment and no louder, is the
pickup's.
"""

from game.instrument.decoding.dirt import Limits
from game.instrument.decoding.played import PlayedNote

OCTAVE = 12
# The silence in which a plectrum stops a string is longer (ours).
_NO_GAP_S = 0.006
# For so long a string that fades may be heard an octave off; no hand has moved there by then (ours).
_FADES_S = 0.060
# What a pickup tells anew it tells about as loud; a pluck this much louder is one (ours).
_AS_LOUD = 1.25


def is_octave(one: int, other: int) -> bool:
    """Whether two pitches are octaves apart, and not the same."""
    return one != other and (one - other) % OCTAVE == 0


def is_jump(told: PlayedNote, sounding: int, velocity: int, gap_s: float) -> bool:
    """Whether a pitch that follows a note after a gap may be the same note, an octave off."""
    if not is_octave(told.sounding, sounding):
        return False
    return gap_s <= _NO_GAP_S and velocity <= _AS_LOUD * told.velocity


def may_fade(told: PlayedNote, sounding: int, velocity: int, gap_s: float) -> bool:
    """Whether a pitch that comes soon after a note's end may be what fades of it, an octave off."""
    if not is_octave(told.sounding, sounding):
        return False
    return _NO_GAP_S < gap_s <= _FADES_S and velocity <= told.velocity


def puts_right(on_s: float, jumped_s: float, at_s: float, limits: Limits) -> bool:
    """Whether a jump at a time is near enough to the pluck, or to the last jump after it, to put a guess right."""
    return at_s - jumped_s < limits.jump_s and at_s - on_s < 2 * limits.jump_s
