"""What a string's messages come to: plucks, changes of pitch, and what nobody played. Pure."""

from dataclasses import replace

from game.instrument.decoding import doubts
from game.instrument.decoding.dirt import AT_ONCE_S, Dirt
from game.instrument.decoding.messages import NoteOn
from game.instrument.decoding.octave_jumps import is_jump, puts_right
from game.instrument.decoding.played import NoteEvent, NoteStarted
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.decoding.voice import (
    LOUDER,
    ROW_S,
    Heard,
    Held,
    Voice,
    arrived,
    begun,
    filtered,
    note_of,
    resumed,
    settled,
    withdrawn,
)

# A pluck stops the string for so long, and then is about as loud as the one before; so soon after that one it is none.
_PLUCK_GAP_S, _PLUCK_SHARE, _PLUCK_SOONEST_S = 0.012, 0.75, 0.036
# A hammer-on leaves the first note's end open for so long, and some tell it late (ours).
_OVERLAP_S = 0.055


def plucked(voice: Voice, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str) -> Heard:
    """The string after a note-on that is neither too soft nor cross-talk; `sounding` is its pitch, bent as it is."""
    voice, news = _held_decided(voice, setup) if voice.held is not None else (voice, ())
    if voice.doubtful:
        voice, told = doubts.followed(voice, note_on.velocity, sounding, at_s)
        news = (*news, *told)
    voice, events = _plucked(voice, note_on, sounding, at_s, setup, source)
    return voice, (*news, *events)


def _plucked(voice: Voice, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str) -> Heard:
    if _is_back_after_flicker(voice, sounding, at_s):
        assert voice.before is not None
        return resumed(voice.before, note_on, at_s, setup, source)
    if doubts.is_tracked_anew(voice, note_on.velocity, sounding, at_s, setup.limits):
        again = note_of(note_on, sounding, at_s, setup, source)
        return voice, (filtered(again, note_on, Dirt.RETRACKED),)
    if not voice.flickered and voice.at_once_after(at_s):
        assert voice.told is not None
        if doubts.is_to_be_held(voice, note_on.velocity, sounding, setup.limits):
            return replace(voice, held=Held(note_on, sounding, at_s, source)), ()
        return _replaced(voice, voice.told, note_on, sounding, at_s, setup, source)
    return begun(voice, note_on, sounding, at_s, setup, source)


def _replaced(
    voice: Voice, told: NoteStarted, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str
) -> Heard:
    """A note-on on a string that sounds, or did just now."""
    limits = setup.limits
    since_s = at_s - voice.changed_s
    is_other = sounding != told.note.sounding
    is_pluck = _is_pluck(voice, told, note_on.velocity, at_s)
    if not is_other and not voice.taken_back and since_s < limits.doubled_s and not is_pluck:
        doubled = note_of(note_on, sounding, at_s, setup, source)
        same = replace(voice, number=note_on.pitch, ended_s=None, settled=voice.ended_s is not None or voice.settled)
        return same, (filtered(doubled, note_on, Dirt.DOUBLED),)
    if voice.jump and at_s - voice.on_s < limits.jump_s:
        return _flicker_over(voice, told, note_on, sounding, at_s, setup, source)
    is_faint = told.note.velocity < limits.faint and note_on.velocity >= LOUDER * told.note.velocity
    if is_faint and at_s - voice.on_s < limits.faint_s and not doubts.is_played(voice, limits):
        fresh, events = begun(replace(voice, taken_back=True), note_on, sounding, at_s, setup, source)
        return fresh, (*(() if voice.taken_back else (withdrawn(told, Dirt.SHORT),)), *events)
    if is_other and _leads_on(voice, told, note_on, sounding, at_s, setup):
        return arrived(replace(voice, number=note_on.pitch), told, sounding, at_s, setup)
    if voice.fades and at_s - voice.on_s < limits.fades_s and voice.ended_s is None:
        fresh, events = begun(replace(voice, taken_back=True), note_on, sounding, at_s, setup, source)
        return fresh, (withdrawn(told, Dirt.FLICKER), *events)
    ended, events_before = cut(voice, at_s)
    fresh, events = begun(ended, note_on, sounding, at_s, setup, source)
    return fresh, (*events_before, *events)


def _leads_on(
    voice: Voice, told: NoteStarted, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup
) -> bool:
    """Whether the string is on its way from one pitch to another, or its octave is put right."""
    limits, gap_s = setup.limits, voice.gap_s(at_s)
    since_s = at_s - voice.changed_s
    if is_jump(told.note, sounding, note_on.velocity, gap_s) and puts_right(voice.on_s, voice.jumped_s, at_s, limits):
        return True
    if since_s >= limits.arrives_s or at_s - voice.on_s >= limits.bend_arrives_s:
        return False
    return not _is_pluck(voice, told, note_on.velocity, at_s)


def _is_pluck(voice: Voice, told: NoteStarted, velocity: int, at_s: float) -> bool:
    """Whether a note-on so soon is a pluck all the same: the string was stopped for it."""
    if voice.gap_s(at_s) < _PLUCK_GAP_S or at_s - voice.changed_s < _PLUCK_SOONEST_S:
        return False
    return velocity >= _PLUCK_SHARE * told.note.velocity


def _flicker_over(
    voice: Voice, told: NoteStarted, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str
) -> Heard:
    """A jump of octaves ends: the string is back, or plucked anew."""
    before = voice.before
    assert before is not None
    assert before.told is not None
    taken_back = () if voice.taken_back else (withdrawn(told, Dirt.FLICKER),)
    if before.told.note.sounding == sounding:
        sounds_on, _ = resumed(before, note_on, at_s, setup, source)
        return sounds_on, taken_back
    fresh, events = begun(replace(voice, taken_back=True), note_on, sounding, at_s, setup, source)
    return fresh, (*taken_back, *events)


def _is_back_after_flicker(voice: Voice, sounding: int, at_s: float) -> bool:
    before = voice.before
    if not voice.flickered or before is None or before.told is None or voice.ended_s is None:
        return False
    return before.told.note.sounding == sounding and voice.at_once_after(at_s)


def released(voice: Voice, number: int, at_s: float, setup: StringsSetup) -> Heard:
    """The string after a note-off for a MIDI number: its note ends, or what came beside it."""
    told, held = voice.told, voice.held
    news: tuple[NoteEvent, ...] = ()
    if held is not None and number == held.note_on.pitch:
        return replace(voice, held=replace(held, off_s=at_s)), ()
    if told is None or voice.ended_s is not None or number != voice.number:
        return voice, ()
    if doubts.is_end_of_before(voice, at_s, setup.limits):
        return voice, ()
    if held is not None:
        if held.off_s is None and at_s - held.at_s <= _OVERLAP_S:
            return _held_sounds(voice, setup)
        voice, news = doubts.ghost(voice, setup)
    # A bend that is at a pitch as the note ends has come to rest there, unless it only goes back for the next pluck.
    goes_back_s = 0.0 if told.note.arrived_s is None else AT_ONCE_S
    voice, arrived_at = _rested(voice, at_s, min(goes_back_s, setup.limits.rest_s), setup)
    assert voice.told is not None
    voice, events = _ended(voice, voice.told, at_s, setup)
    return voice, (*news, *arrived_at, *events)


def _ended(voice: Voice, told: NoteStarted, at_s: float, setup: StringsSetup) -> Heard:
    limits = setup.limits
    lasted_s = at_s - voice.on_s
    if voice.jump and lasted_s < limits.jump_s:
        return replace(voice, ended_s=at_s, flickered=True), (withdrawn(told, Dirt.FLICKER),)
    if voice.fades and lasted_s < limits.fades_s:
        return voice.ended(at_s, taken_back=True), (withdrawn(told, Dirt.FLICKER),)
    if told.note.arrived_s is not None:
        return voice.ended(at_s), settled(voice, at_s)
    doubt = doubts.about_end(voice, lasted_s, limits)
    if doubt in (doubts.Doubt.DIRT, doubts.Doubt.STROKE):
        gone = replace(voice.ended(at_s, taken_back=True), doubtful=doubt is doubts.Doubt.STROKE)
        return gone, (withdrawn(told, Dirt.SHORT),)
    if doubt is doubts.Doubt.OPEN:
        return replace(voice.ended(at_s), doubtful=True), ()
    return voice.ended(at_s), settled(voice, at_s)


def cut(voice: Voice, at_s: float) -> Heard:
    """The string when everything on it is ended, by a message or by the end of a recording: that says nothing about
    how long a note would have been.
    """
    if voice.told is None or voice.ended_s is not None:
        return voice, ()
    return voice.ended(at_s), settled(voice, at_s)


def silenced(voice: Voice, at_s: float, setup: StringsSetup) -> Heard:
    """The same where something beside the note is still to be told: now it must be."""
    news: tuple[NoteEvent, ...] = ()
    if voice.doubtful:
        voice, news = doubts.taken_back(voice)
    if voice.held is not None:
        voice, news = _held_decided(voice, setup)
    voice, events = cut(voice, at_s)
    return voice, (*news, *events)


def bent(voice: Voice, pitch: float, at_s: float, setup: StringsSetup) -> Voice:
    """The string, as time has passed, when its bend comes to `pitch`, a MIDI number with its fraction."""
    sounding = voice.sounding
    if sounding is None:
        return voice
    near = round(pitch)
    if near == sounding or abs(pitch - near) > setup.limits.in_tune:
        return voice if voice.resting is None else replace(voice, resting=None)
    if voice.resting is None or voice.resting[0] != near:
        return replace(voice, resting=(near, at_s))
    return voice


def pass_time(voice: Voice, now_s: float, setup: StringsSetup) -> Heard:
    """The string as time passes: a bend that has come to rest soon after the pluck has arrived at its pitch, a note
    that was too short stays alone.
    """
    limits = setup.limits
    if voice.doubtful and voice.ended_s is not None and now_s - voice.ended_s > ROW_S:
        return doubts.taken_back(voice)
    return _rested(voice, now_s, limits.rest_s, setup)


def _rested(voice: Voice, now_s: float, rest_s: float, setup: StringsSetup) -> Heard:
    told, resting = voice.told, voice.resting
    if resting is None or told is None or resting[0] == told.note.sounding:
        return voice, ()
    sounding, since_s = resting
    if now_s - since_s < rest_s or since_s - voice.on_s > setup.limits.bend_arrives_s:
        return voice, ()
    return arrived(voice, told, sounding, since_s, setup)


def cross_talked(voice: Voice) -> Heard:
    """The string whose note turns out to be another string's."""
    assert voice.told is not None
    return Voice(), (withdrawn(voice.told, Dirt.CROSS_TALK),)


def _held_decided(voice: Voice, setup: StringsSetup) -> Heard:
    """What came beside a note that was never told to end: there are devices that leave that out."""
    held = voice.held
    assert held is not None
    if held.note_on.velocity < setup.limits.unplucked:
        return doubts.ghost(voice, setup)
    voice, news = _held_sounds(voice, setup)
    if held.off_s is None:
        return voice, news
    voice, events = released(voice, held.note_on.pitch, held.off_s, setup)
    return voice, (*news, *events)


def _held_sounds(voice: Voice, setup: StringsSetup) -> Heard:
    """What came beside a note was played: it is told with its own time."""
    held, told = voice.held, voice.told
    assert held is not None
    assert told is not None
    first = replace(voice, held=None, ended_s=None)
    return _replaced(first, told, held.note_on, held.sounding, held.at_s, setup, held.source)
