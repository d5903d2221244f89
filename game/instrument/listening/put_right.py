"""The pitch of a note that was told a moment ago, put right as more of it is heard.

What is decided here is decided by several readings in a row: they are counted on the note.
"""

from game.instrument.listening.difference_function import NO_PITCH, Estimate
from game.instrument.listening.early_pitch import is_any_partial
from game.instrument.listening.plucked_pitch import CLEAR
from game.instrument.listening.semitones import SAME_PITCH
from game.instrument.listening.sounding_note import SoundingNote

_TOGETHER = 0.35
"""Semitones within which one reading goes on from the one before."""
_READINGS, _OCTAVE_READINGS, _NEVER = 2, 4, 1000
_OCTAVE_CLEAR = 0.95
_AS_CLEAR, _HIGHER_STEPS = 0.97, 5
"""A partial that is so nearly as clear as the period itself, for so many steps, is the note's own pitch."""


def put_right_by(note: SoundingNote, estimate: Estimate) -> Estimate | None:
    """What a young note is from now on, by the newest reading of its pitch; None where it stays what it is."""
    if estimate.clarity < CLEAR or not estimate.is_in_range:
        note.elsewhere.clear()
        return None
    if abs(estimate.pitch - note.estimate.pitch) < SAME_PITCH:
        note.elsewhere.clear()
        return estimate if estimate.clarity > note.estimate.clarity else None
    if note.elsewhere and abs(estimate.pitch - note.elsewhere[-1]) >= _TOGETHER:
        note.elsewhere.clear()
    note.elsewhere.append(estimate.pitch)
    if note.is_faint and not is_any_partial(abs(estimate.pitch - note.estimate.pitch)):
        return None
    enough = _readings_for(note.estimate.pitch - estimate.pitch, estimate)
    return estimate if len(note.elsewhere) >= enough else None


def _readings_for(below: float, estimate: Estimate) -> int:
    """How many readings in a row put a note right; none a partial of which it is told as, for the body's thump
    outlasts a string that is muted. An octave lower only what is very clear.
    """
    if not is_any_partial(below):
        return _READINGS
    return _OCTAVE_READINGS if below < 12 + SAME_PITCH and estimate.clarity > _OCTAVE_CLEAR else _NEVER


def put_higher_by(note: SoundingNote, peaks: tuple[Estimate, ...]) -> Estimate | None:
    """What a note is that was told by a period it had in common with the one before, once that is silent; None where it
    stays. `peaks` are all periods that it may have, the shortest first.
    """
    highest = max((peak.clarity for peak in peaks), default=0.0)
    first = next((peak for peak in peaks if peak.clarity > max(_AS_CLEAR * highest, CLEAR)), NO_PITCH)
    if not is_any_partial(first.pitch - note.estimate.pitch):
        note.higher = 0
        return None
    note.higher += 1
    return first if note.higher >= _HIGHER_STEPS else None
