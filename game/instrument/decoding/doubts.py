"""What cannot be told at once of a string: short notes, faint ones, and what still rings. Pure.

The hand is not lost sight of: what follows at once on a string, or is followed so, was played, however faint; what
stands alone, beside a louder note or in its wake, was not.
"""

from dataclasses import replace
from enum import Enum

from game.instrument.decoding.dirt import Dirt, Limits, may_ring
from game.instrument.decoding.octave_jumps import OCTAVE
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.decoding.voice import (
    LATE_END_S,
    LOUDER,
    REPEATS_S,
    ROW_S,
    Heard,
    Voice,
    filtered,
    note_of,
    settled,
    withdrawn,
)

# Below this not even the quickest stroke lasts (ours).
_STROKE_S = 0.020
# For so long at least a stroke stops the string (ours).
_STOPS_S = 0.010
# A note has to sound for a while before it dies and is lost (ours).
_DIES_S = 0.15
# A repeat that overlaps the note before is no softer than this, unless it comes as quick as this (ours).
_QUICK_REPEATS_S, _REPEAT_SHARE = 0.2, 0.3
# What is held beside a note is at most half as loud (ours).
_BESIDE_SHARE = 0.5


class Doubt(Enum):
    """What the end of a note says of it: it was played, it is dirt, it is unless it turns out to be the first stroke of
    a row, or what comes next will tell.
    """

    NONE = "played"
    DIRT = "dirt"
    STROKE = "dirt, or a stroke"
    OPEN = "open"


def is_played(voice: Voice, limits: Limits) -> bool:
    """Whether a faint note was played for certain: it goes on a row of such, or it began as another ended, as a
    hammer-on or pull-off does. Not the open string that is brushed as a finger leaves it.
    """
    if voice.in_row:
        return True
    if not voice.legato or voice.told is None:
        return False
    note = voice.told.note
    return note.velocity >= limits.unplucked or note.place is None or note.place.fret > 0


def about_end(voice: Voice, lasted_s: float, limits: Limits) -> Doubt:
    """What a note that lasted so long may be, as far as its end says."""
    assert voice.told is not None
    is_faint = voice.told.note.velocity < limits.faint
    if lasted_s < limits.shortest_s:
        if lasted_s >= _STROKE_S and _repeats(voice):
            return Doubt.NONE
        return Doubt.STROKE if lasted_s >= _STROKE_S else Doubt.DIRT
    if is_faint and lasted_s < limits.faint_s and not is_played(voice, limits):
        return Doubt.OPEN
    return Doubt.NONE


def _repeats(voice: Voice) -> bool:
    """Whether a note goes on a row of the same pitch."""
    before = voice.before
    if not voice.in_row or before is None or before.told is None or voice.told is None:
        return False
    return before.told.note.sounding == voice.told.note.sounding and before.gap_s(voice.on_s) >= _STOPS_S


def followed(voice: Voice, velocity: int, sounding: int, at_s: float) -> Heard:
    """A doubtful note as the next begins on its string: soon, and about as loud, the two are a row. A stroke shorter
    than any other must have the same pitch.
    """
    told, ended_s = voice.told, voice.ended_s
    assert told is not None
    assert ended_s is not None
    is_row = at_s - ended_s <= ROW_S and velocity < LOUDER * told.note.velocity
    if voice.taken_back:
        # Told to be dirt at once: it is told anew, with its time.
        if not is_row or not _is_stroke(voice, velocity, sounding, at_s):
            return taken_back(voice)
        return replace(voice, doubtful=False, taken_back=False), (told, *settled(voice, ended_s))
    return (replace(voice, doubtful=False), settled(voice, ended_s)) if is_row else taken_back(voice)


def _is_stroke(voice: Voice, velocity: int, sounding: int, at_s: float) -> bool:
    assert voice.told is not None
    note = voice.told.note
    return note.sounding == sounding and voice.gap_s(at_s) >= _STOPS_S and LOUDER * velocity >= note.velocity


def taken_back(voice: Voice) -> Heard:
    """A doubtful note was dirt."""
    assert voice.told is not None
    if voice.taken_back:
        return replace(voice, doubtful=False), ()
    return replace(voice, doubtful=False, taken_back=True), (withdrawn(voice.told, Dirt.SHORT),)


def is_to_be_held(voice: Voice, velocity: int, sounding: int, limits: Limits) -> bool:
    """Whether a note is so faint beside the one that stands that the next messages must tell what it is."""
    if voice.ended_s is not None or voice.told is None or limits.faint_s == 0:
        return False
    first = voice.told.note
    return sounding != first.sounding and velocity < limits.faint and velocity <= _BESIDE_SHARE * first.velocity


def ghost(voice: Voice, setup: StringsSetup) -> Heard:
    """What came beside a note was never played."""
    held = voice.held
    assert held is not None
    note = note_of(held.note_on, held.sounding, held.at_s, setup, held.source)
    return replace(voice, held=None), (filtered(note, held.note_on, Dirt.GHOST),)


def is_tracked_anew(voice: Voice, velocity: int, sounding: int, at_s: float, limits: Limits) -> bool:
    """Whether a faint note is the one before, which still rings, as it was or an octave off."""
    told = voice.told
    if told is None or voice.taken_back or (sounding - told.note.sounding) % OCTAVE != 0:
        return False
    if not may_ring(velocity, told.note.velocity, limits):
        return False
    if voice.ended_s is None:
        return at_s - voice.changed_s >= limits.doubled_s
    return voice.ended_s - voice.on_s >= _DIES_S and at_s - voice.ended_s < limits.retracked_s


def is_end_of_before(voice: Voice, at_s: float, limits: Limits) -> bool:
    """Whether a note-off is that of the same pitch before, which was still standing: some tell the end of a note only
    after the next has begun, and no note is so short. In the middle of a long note it is a ghost.
    """
    before = voice.before
    if before is None or before.number != voice.number or at_s - voice.on_s >= min(LATE_END_S, limits.shortest_s):
        return False
    assert voice.told is not None
    assert before.told is not None
    is_soft = voice.told.note.velocity < _REPEAT_SHARE * before.told.note.velocity
    if voice.on_s - before.on_s > (_QUICK_REPEATS_S if is_soft else REPEATS_S):
        return False
    return before.ended_s == voice.on_s
