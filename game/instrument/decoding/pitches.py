"""A guitar that does not report strings, all of it on one channel: pitches, with a pickup's ghosts filtered. Pure.

Strings ring on while others are plucked, so a note is not ended by the next. Where one is followed at once by another
pitch, soon after its pluck, the string was on its way there.
"""

from dataclasses import dataclass, field, replace

from game.instrument.decoding.delay import NO_DELAY, Delay
from game.instrument.decoding.dirt import AT_ONCE_S, USUAL_LIMITS, Dirt, Limits
from game.instrument.decoding.messages import NoteOff, NoteOn, decode
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteRevised, NoteSettled, NoteStarted, PlayedNote
from game.instrument.decoding.sounding_notes import SILENCE, SoundingNotes
from game.instrument.decoding.stamped import StampedMessage


@dataclass(frozen=True, slots=True)
class PitchesSetup:
    """`delay` is taken out of the times of notes, `limits` tell ghosts apart."""

    limits: Limits = USUAL_LIMITS
    delay: Delay = NO_DELAY


@dataclass(frozen=True, slots=True)
class PitchesState:
    """What sounds, and the note that ended last: at `ended_s`, `taken_back` where it was too short to count."""

    setup: PitchesSetup = field(default_factory=PitchesSetup)
    sounding_notes: SoundingNotes = SILENCE
    ended: PlayedNote | None = None
    ended_s: float = 0.0
    taken_back: bool = False


_Heard = tuple[PitchesState, tuple[NoteEvent, ...]]


def hear(state: PitchesState, stamped: StampedMessage) -> _Heard:
    """The state after a message, and what became of notes by it. Every note's place is None."""
    message = decode(stamped.message)
    if isinstance(message, NoteOn):
        return _plucked(state, message, stamped)
    if isinstance(message, NoteOff):
        return _released(state, message, stamped.at_s)
    if message is None:
        return state, ()
    sounding, settled = state.sounding_notes.end_by(message, at_s=stamped.at_s)
    return replace(state, sounding_notes=sounding), settled


def finish(state: PitchesState, at_s: float) -> _Heard:
    """Nothing more comes: every note is settled."""
    settled = tuple(
        NoteSettled(note=event.note, channel=event.channel, ended_s=at_s) for event in state.sounding_notes.started
    )
    return replace(state, sounding_notes=SILENCE), settled


def _plucked(state: PitchesState, message: NoteOn, stamped: StampedMessage) -> _Heard:
    limits, delay_s = state.setup.limits, state.setup.delay.of(message.pitch)
    note = PlayedNote(
        started_s=stamped.at_s - delay_s,
        sounding=message.pitch,
        place=None,
        velocity=message.velocity,
        source=stamped.source,
    )
    if message.velocity < limits.softest:
        return state, (NoteFiltered(note=note, channel=message.channel, dirt=Dirt.SOFT),)
    twins = (other for other in state.sounding_notes.notes if other.sounding == note.sounding)
    if any(note.started_s - _changed_s(other) < limits.doubled_s for other in twins):
        return state, (NoteFiltered(note=note, channel=message.channel, dirt=Dirt.DOUBLED),)
    way = state.ended
    event: NoteStarted | NoteRevised
    if way is not None and _leads_on(state, way, note, stamped.at_s):
        note = replace(note, started_s=way.started_s, arrived_s=note.started_s)
        event = NoteRevised(before=way, after=note, channel=message.channel)
        if state.taken_back:
            event = NoteStarted(note=note, channel=message.channel)
    else:
        event = NoteStarted(note=note, channel=message.channel)
    sounding, settled = state.sounding_notes.end(channel=message.channel, at_s=stamped.at_s, pitch=message.pitch)
    sounding = sounding.begin(NoteStarted(note=note, channel=message.channel))
    return replace(state, sounding_notes=sounding, ended=None), (*settled, event)


def _leads_on(state: PitchesState, way: PlayedNote, note: PlayedNote, at_s: float) -> bool:
    """Whether a note that just ended was on the way to the one that begins."""
    limits = state.setup.limits
    return (
        at_s - state.ended_s <= AT_ONCE_S
        and way.sounding != note.sounding
        and note.started_s - _changed_s(way) < limits.arrives_s
        and note.started_s - way.started_s < limits.bend_arrives_s
    )


def _changed_s(note: PlayedNote) -> float:
    """When a note came to its pitch."""
    return note.started_s if note.arrived_s is None else note.arrived_s


def _released(state: PitchesState, message: NoteOff, at_s: float) -> _Heard:
    sounding, settled = state.sounding_notes.end(channel=message.channel, at_s=at_s, pitch=message.pitch)
    if not settled:
        return state, ()
    note, limits = settled[-1].note, state.setup.limits
    lasted_s = at_s - state.setup.delay.of(note.sounding) - _changed_s(note)
    is_short = lasted_s < limits.shortest_s or (note.velocity < limits.faint and lasted_s < limits.faint_s)
    state = replace(state, sounding_notes=sounding, ended=note, ended_s=at_s, taken_back=is_short)
    if is_short:
        return state, (NoteRevised(before=note, after=None, channel=message.channel, dirt=Dirt.SHORT),)
    return state, settled
