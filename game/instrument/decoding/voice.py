"""One string of a MIDI guitar: what was played on it, out of what its channel tells. Pure.

A string sounds one note at a time. Whether a note was dirt, or the way to another, is often known only a
moment later: it is told at once and revised then. Times here are as the device told them; only the notes
themselves have the delay taken out.
"""

from dataclasses import dataclass, replace

from game.instrument.decoding.dirt import AT_ONCE_S, Dirt
from game.instrument.decoding.messages import NoteOn
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteRevised, NoteSettled, NoteStarted, PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup

_OCTAVE = 12
# A pluck this many times louder than what came just before it is no part of it (ours).
_LOUDER = 2.0


@dataclass(frozen=True, slots=True)
class Voice:
    """A string's note. `told` is the note as it was told last, None on a string that has not sounded.

    `number` is the MIDI number its note-off will have; `on_s` when it was plucked, `changed_s` when its pitch
    changed last; `ended_s` when it ended, None while it sounds; `released_s` when it was released under the
    pedal. `resting` is the pitch a bend is at, and since when. `before` is the note before it on the string.
    `flickered` when the note was a jump of octaves that was taken back; `settled` when the note was told as
    settled before it turned out to go on; `taken_back` when it was told to be dirt. A note that comes at once after
    that still begins with it.
    """

    told: NoteStarted | None = None
    number: int = -1
    on_s: float = 0.0
    changed_s: float = 0.0
    ended_s: float | None = None
    released_s: float | None = None
    resting: tuple[int, float] | None = None
    before: "Voice | None" = None
    flickered: bool = False
    settled: bool = False
    taken_back: bool = False

    @property
    def sounding(self) -> int | None:
        """The pitch that sounds, None in silence."""
        return self.told.note.sounding if self.told is not None and self.ended_s is None else None

    # Written out, for `dataclasses.replace` costs more than all the rest of a message.

    def ended(self, at_s: float, *, taken_back: bool = False) -> "Voice":
        """The string fallen silent."""
        return Voice(
            self.told, self.number, self.on_s, self.changed_s, at_s, None, None, None, False, self.settled, taken_back
        )

    def at_rest(self, resting: tuple[int, float] | None) -> "Voice":
        """The string with its bend at a pitch since a time, or moving."""
        return Voice(
            self.told,
            self.number,
            self.on_s,
            self.changed_s,
            self.ended_s,
            self.released_s,
            resting,
            self.before,
            self.flickered,
            self.settled,
            self.taken_back,
        )


SILENT = Voice()
_Heard = tuple[Voice, tuple[NoteEvent, ...]]


def plucked(voice: Voice, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str) -> _Heard:
    """The string after a note-on that is neither too soft nor cross-talk; `sounding` is its pitch, bent as it is."""
    told = voice.told
    if _is_back_after_flicker(voice, sounding, at_s, setup):
        assert voice.before is not None
        return _resumed(voice.before, note_on, at_s, setup, source)
    if told is not None and not voice.flickered and (voice.ended_s is None or at_s - voice.ended_s <= AT_ONCE_S):
        return _replaced(voice, told, note_on, sounding, at_s, setup, source)
    return _begun(voice, note_on, sounding, at_s, setup, source)


def _replaced(
    voice: Voice, told: NoteStarted, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str
) -> _Heard:
    """A note-on on a string that sounds, or did just now."""
    limits = setup.limits
    since_s = at_s - voice.changed_s
    is_other = sounding != told.note.sounding
    if not is_other and not voice.taken_back and since_s < limits.doubled_s:
        doubled = _note(note_on, sounding, at_s, setup, source)
        same = replace(voice, number=note_on.pitch, ended_s=None, settled=voice.ended_s is not None or voice.settled)
        return same, (NoteFiltered(note=doubled, channel=note_on.channel, dirt=Dirt.DOUBLED),)
    if _is_back(voice, sounding, at_s, limits.flicker_s):
        assert voice.before is not None
        resumed, _ = _resumed(voice.before, note_on, at_s, setup, source)
        return resumed, (() if voice.taken_back else (_withdrawn(told, Dirt.FLICKER),))
    is_faint = told.note.velocity < limits.faint and note_on.velocity >= _LOUDER * told.note.velocity
    if is_faint and at_s - voice.on_s < limits.faint_s:
        begun, events = _begun(replace(voice, taken_back=True), note_on, sounding, at_s, setup, source)
        return begun, (*(() if voice.taken_back else (_withdrawn(told, Dirt.SHORT),)), *events)
    if is_other and since_s < limits.arrives_s and at_s - voice.on_s < limits.bend_arrives_s:
        return _arrived(replace(voice, number=note_on.pitch), told, sounding, at_s, at_s, setup)
    ended, settled = cut(voice, at_s)
    begun, events = _begun(ended, note_on, sounding, at_s, setup, source)
    return begun, (*settled, *events)


def cut(voice: Voice, at_s: float) -> _Heard:
    """The string when everything on it is ended, by a message or by the end of a recording: that says nothing about
    how long a note would have been.
    """
    told = voice.told
    if told is None or voice.ended_s is not None:
        return voice, ()
    return voice.ended(at_s), _settled(told, voice, at_s)


def released(voice: Voice, at_s: float, setup: StringsSetup) -> _Heard:
    """The string when its note ends."""
    told = voice.told
    if told is None or voice.ended_s is not None:
        return voice, ()
    limits = setup.limits
    lasted_s = at_s - voice.on_s
    if _was_flicker(voice, lasted_s, limits.flicker_s):
        return replace(voice, ended_s=at_s, flickered=True), (_withdrawn(told, Dirt.FLICKER),)
    is_short = lasted_s < limits.shortest_s or (told.note.velocity < limits.faint and lasted_s < limits.faint_s)
    if is_short and told.note.arrived_s is None:
        taken_back = voice.ended(at_s, taken_back=True)
        return taken_back, (_withdrawn(told, Dirt.SHORT),)
    return voice.ended(at_s), _settled(told, voice, at_s)


def bent(voice: Voice, pitch: float, at_s: float, setup: StringsSetup) -> _Heard:
    """The string when its bend comes to `pitch`, a MIDI number with its fraction."""
    voice, events = pass_time(voice, at_s, setup)
    sounding = voice.sounding
    if sounding is None:
        return voice, events
    near = round(pitch)
    if near == sounding or abs(pitch - near) > setup.limits.in_tune:
        return (voice if voice.resting is None else voice.at_rest(None)), events
    if voice.resting is None or voice.resting[0] != near:
        voice = voice.at_rest((near, at_s))
    return voice, events


def pass_time(voice: Voice, now_s: float, setup: StringsSetup) -> _Heard:
    """The string as time passes: a bend that has come to rest soon after the pluck has arrived at its pitch."""
    told, resting = voice.told, voice.resting
    if resting is None or told is None or resting[0] == told.note.sounding:
        return voice, ()
    limits = setup.limits
    sounding, since_s = resting
    if now_s - since_s < limits.rest_s or since_s - voice.on_s > limits.bend_arrives_s:
        return voice, ()
    return _arrived(voice, told, sounding, since_s, since_s, setup)


def cross_talked(voice: Voice) -> _Heard:
    """The string whose note turns out to be another string's."""
    assert voice.told is not None
    return Voice(), (_withdrawn(voice.told, Dirt.CROSS_TALK),)


def _begun(
    voice: Voice, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str
) -> tuple[Voice, tuple[NoteStarted, ...]]:
    note = _note(note_on, sounding, at_s, setup, source)
    _, off_neck = setup.placed(note_on.channel, sounding)
    started = NoteStarted(note=note, channel=note_on.channel, off_neck=off_neck)
    before = voice if voice.told is not None and not voice.flickered and not voice.taken_back else None
    return Voice(started, note_on.pitch, at_s, at_s, None, None, None, before), (started,)


def _note(note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str) -> PlayedNote:
    return PlayedNote(
        started_s=at_s - setup.delay.of(sounding),
        sounding=sounding,
        place=setup.placed(note_on.channel, sounding)[0],
        velocity=note_on.velocity,
        source=source,
    )


def _arrived(
    voice: Voice, told: NoteStarted, sounding: int, at_s: float, arrived_s: float, setup: StringsSetup
) -> _Heard:
    """The note comes to another pitch. A first guess octaves off is none: the pitch was so from the pluck."""
    delay_s = setup.delay.of(sounding)
    place, off_neck = setup.placed(told.channel, sounding)
    guessed = (sounding - told.note.sounding) % _OCTAVE == 0
    after = replace(
        told.note,
        started_s=voice.on_s - delay_s,
        sounding=sounding,
        place=place,
        arrived_s=told.note.arrived_s if guessed else arrived_s - delay_s,
    )
    started = NoteStarted(note=after, channel=told.channel, off_neck=off_neck)
    settled = voice.settled or (voice.ended_s is not None and not voice.taken_back)
    arrived = replace(
        voice, told=started, changed_s=at_s, resting=None, ended_s=None, settled=settled, taken_back=False
    )
    if voice.taken_back:
        return arrived, (started,)
    return arrived, (NoteRevised(before=told.note, after=after, channel=told.channel, off_neck=off_neck),)


def _is_back(voice: Voice, sounding: int, at_s: float, flicker_s: float) -> bool:
    """Whether the string is back at the pitch it jumped octaves away from."""
    before = voice.before
    if before is None or before.told is None or before.ended_s is None or at_s - voice.on_s >= flicker_s:
        return False
    apart = voice.told.note.sounding - sounding if voice.told is not None else 0
    jumped = apart != 0 and apart % _OCTAVE == 0
    return jumped and before.told.note.sounding == sounding and voice.on_s - before.ended_s <= AT_ONCE_S


def _was_flicker(voice: Voice, lasted_s: float, flicker_s: float) -> bool:
    """Whether a note that ends was octaves away from the one it seemed to end."""
    before, told = voice.before, voice.told
    if before is None or before.told is None or before.ended_s is None or told is None or lasted_s >= flicker_s:
        return False
    apart = told.note.sounding - before.told.note.sounding
    return apart != 0 and apart % _OCTAVE == 0 and voice.on_s - before.ended_s <= AT_ONCE_S


def _is_back_after_flicker(voice: Voice, sounding: int, at_s: float, setup: StringsSetup) -> bool:
    before = voice.before
    if not voice.flickered or before is None or before.told is None or before.ended_s is None:
        return False
    return before.told.note.sounding == sounding and at_s - before.ended_s <= setup.limits.flicker_s + AT_ONCE_S


def _resumed(before: Voice, note_on: NoteOn, at_s: float, setup: StringsSetup, source: str) -> _Heard:
    """The note that a flicker seemed to end sounds on."""
    assert before.told is not None
    again = _note(note_on, before.told.note.sounding, at_s, setup, source)
    resumed = Voice(before.told, note_on.pitch, before.on_s, at_s, settled=True)
    return resumed, (NoteFiltered(note=again, channel=note_on.channel, dirt=Dirt.FLICKER),)


def _withdrawn(told: NoteStarted, dirt: Dirt) -> NoteRevised:
    return NoteRevised(before=told.note, after=None, channel=told.channel, dirt=dirt)


def _settled(told: NoteStarted, voice: Voice, at_s: float) -> tuple[NoteSettled, ...]:
    if voice.settled:
        return ()
    return (NoteSettled(note=told.note, channel=told.channel, ended_s=at_s),)
