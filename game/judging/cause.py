"""Why a pitch was wrong, where it can be told.

The order of the questions is ours, from teachers' practice: a forgotten sign explains a wrong note better than a
finger that slipped, for it sounds the very pitch the bare letter would.
"""

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.verdicts import Cause
from game.music.accidentals import AlteredBy
from game.music.pitch import SEMITONES_OF_STEP, STEPS
from game.neck.tuning import Place

# Written staff steps at which ledger lines begin on a treble staff: C4 below, A5 above (trade).
_LEDGER_BELOW = 28
_LEDGER_ABOVE = 40


def octave_off(expected: ExpectedNote, sounding: int) -> bool:
    """Whether only the octave is wrong."""
    return sounding != expected.sounding and (sounding - expected.sounding) % 12 == 0


def cause_of(expected: ExpectedNote, played: PlayedNote) -> Cause:
    """The likeliest cause of a wrong pitch; `played` does not sound the written pitch."""
    if octave_off(expected, played.sounding):
        return Cause.OCTAVE
    forgotten = _forgotten_sign(expected, played.sounding)
    if forgotten is not None:
        return forgotten
    staff_step = expected.note.pitch.staff_step
    distance = _staff_distance(expected, played.sounding)
    if distance is not None and (staff_step <= _LEDGER_BELOW or staff_step >= _LEDGER_ABOVE) and distance <= 2:
        return Cause.LEDGER
    if distance == 1:
        return Cause.NEIGHBOUR
    if played.place is not None and expected.home is not None and _beside(played.place, expected.home.place):
        return Cause.SLIP
    return Cause.UNKNOWN


def _forgotten_sign(expected: ExpectedNote, sounding: int) -> Cause | None:
    """The sign that was left out of account, if leaving it out gives the pitch that was played."""
    note = expected.note
    played_alter = note.pitch.alter + sounding - note.sounding
    if note.shown.altered_by in (AlteredBy.ACCIDENTAL, AlteredBy.EARLIER):
        return Cause.ACCIDENTAL if played_alter in (0, note.signature) else None
    if note.shown.altered_by is AlteredBy.SIGNATURE and played_alter == 0:
        return Cause.SIGNATURE
    return None


def _staff_distance(expected: ExpectedNote, sounding: int) -> int | None:
    """How many lines and spaces off the played pitch stands, 1 or 2; None when it is farther or no plain reading.

    The letters nearby are tried as the bare letter and with the alteration the written note has, which is what a
    player who took one line for another would play.
    """
    note = expected.note
    octaves = note.pitch.midi - note.sounding
    for distance in (1, 2):
        for moved in (note.pitch.staff_step - distance, note.pitch.staff_step + distance):
            octave, step = divmod(moved, 7)
            bare = 12 * (octave + 1) + SEMITONES_OF_STEP[STEPS[step]]
            if sounding + octaves - bare in (0, note.pitch.alter):
                return distance
    return None


def _beside(place: Place, home: Place) -> bool:
    """One fret along the string, or the same fret one string over."""
    string_steps, fret_steps = abs(place.string - home.string), abs(place.fret - home.fret)
    return string_steps + fret_steps == 1
