"""A guitar whose channels are no strings: pitches and bends, with a pickup's ghosts filtered. Pure.

All of it is on one channel, or the channels are given to notes in turn (MPE). Strings ring on while others are plucked,
so a note is not ended by the next. Where one is followed at once by another pitch, soon after its pluck, or is bent to
one and stays there, the string was on its way there.
"""

from dataclasses import dataclass, field, replace

from game.instrument.decoding.bend_range import RESTS_S, BendAtRest, inferred_range, with_rest
from game.instrument.decoding.channel import (
    FULL_BEND,
    INITIAL_CHANNEL,
    MPE_BEND_SEMITONES,
    Channel,
    announces_mpe,
    channel_after,
)
from game.instrument.decoding.delay import NO_DELAY, Delay
from game.instrument.decoding.dirt import AT_ONCE_S, USUAL_LIMITS, Dirt, Limits
from game.instrument.decoding.messages import ControlChange, NoteOff, NoteOn, PitchBend, decode
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.ringing import Ringing, bent_by, ended
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import CHANNELS
from game.instrument.decoding.usual import USUAL_BEND_SEMITONES
from game.instrument.decoding.voice import LATE_END_S, REPEATS_S


@dataclass(frozen=True, slots=True)
class PitchesSetup:
    """`delay` is taken out of the times of notes, `limits` tell ghosts apart, `bend_semitones` is a full bend where the
    device does not send it. `is_mpe` where the channels are given to notes in turn: all have one range then (MPE 1.0).
    """

    limits: Limits = USUAL_LIMITS
    delay: Delay = NO_DELAY
    bend_semitones: float = USUAL_BEND_SEMITONES
    is_mpe: bool = False

    def as_mpe(self) -> "PitchesSetup":
        """The same once the device said that its channels are given to notes in turn."""
        return PitchesSetup(self.limits, self.delay, MPE_BEND_SEMITONES, is_mpe=True)


@dataclass(frozen=True, slots=True)
class PitchesState:
    """What rings, oldest first, and the note that ended last: at `ended_s`, `taken_back` where it was too short to
    count. `rests` are the bends that came to rest, by which `inferred_semitones` was found, None until they tell.
    """

    setup: PitchesSetup = field(default_factory=PitchesSetup)
    ringing: tuple[Ringing, ...] = ()
    channels: tuple[Channel, ...] = (INITIAL_CHANNEL,) * CHANNELS
    ended: PlayedNote | None = None
    ended_s: float = 0.0
    taken_back: bool = False
    rests: tuple[BendAtRest, ...] = ()
    inferred_semitones: float | None = None

    @property
    def bend_semitones(self) -> float:
        """A full bend where the device did not send it."""
        return self.inferred_semitones or self.setup.bend_semitones


_Heard = tuple[PitchesState, tuple[NoteEvent, ...]]


def hear(state: PitchesState, stamped: StampedMessage) -> _Heard:
    """The state after a message, and what became of notes by it. Every note's place is None."""
    message, at_s = decode(stamped.message), stamped.at_s
    if message is None:
        return state, ()
    if isinstance(message, ControlChange):
        return _controlled(state, message, at_s)
    state, arrived = pass_time(state, at_s)
    state, inferred = _rested(state, message.channel, at_s)
    if isinstance(message, NoteOn):
        state, events = _plucked(state, message, stamped)
    elif isinstance(message, NoteOff):
        state, events = _released(state, message, at_s)
    else:
        state, events = _bent(state, message, at_s)
    return state, (*arrived, *inferred, *events)


def pass_time(state: PitchesState, now_s: float) -> _Heard:
    """The state as time passes: bends that stay at a pitch soon after the pluck have arrived there."""
    events: tuple[NoteEvent, ...] = ()
    for one in state.ringing:
        if one.resting is not None:
            state, news = _arrived(state, one, now_s, state.setup.limits.rest_s)
            events = (*events, *news)
    return state, events


def finish(state: PitchesState, at_s: float) -> _Heard:
    """Nothing more comes: bends that rest have arrived, and every note is settled."""
    state, events = pass_time(state, at_s + state.setup.limits.rest_s)
    return replace(state, ringing=()), (*events, *(one.settled(at_s) for one in state.ringing))


def _plucked(state: PitchesState, message: NoteOn, stamped: StampedMessage) -> _Heard:
    limits, channel = state.setup.limits, state.channels[message.channel - 1]
    note = _note_of(state, message, message.pitch + round(channel.bent_semitones(state.bend_semitones)), stamped)
    if message.velocity < limits.softest:
        return state, (NoteFiltered(note=note, channel=message.channel, dirt=Dirt.SOFT),)
    twins = (one.told.note for one in state.ringing if one.told.note.sounding == note.sounding)
    if any(note.started_s - _changed_s(other) < limits.doubled_s for other in twins):
        return state, (NoteFiltered(note=note, channel=message.channel, dirt=Dirt.DOUBLED),)
    way, started = state.ended, NoteStarted(note=note, channel=message.channel)
    event: NoteStarted | NoteRevised = started
    if way is not None and _leads_on(state, way, note, stamped.at_s):
        note = replace(note, started_s=way.started_s, arrived_s=note.started_s)
        started = NoteStarted(note=note, channel=message.channel)
        event = started if state.taken_back else NoteRevised(before=way, after=note, channel=message.channel)
    ringing, gone = ended(state.ringing, message.channel, message.pitch)
    # A bend that goes back for the next pluck moves nothing that rings on.
    ringing = tuple(replace(one, resting=None) if one.told.channel == message.channel else one for one in ringing)
    repeats = any(stamped.at_s - one.on_s <= REPEATS_S for one in gone)
    fresh = Ringing(started, message.pitch, stamped.at_s, channel.bend, repeats)
    settled = (one.settled(stamped.at_s) for one in gone)
    return replace(state, ringing=(*ringing, fresh), ended=None), (*settled, event)


def _note_of(state: PitchesState, message: NoteOn, sounding: int, stamped: StampedMessage) -> PlayedNote:
    started_s = stamped.at_s - state.setup.delay.of(sounding)
    velocity, source = message.velocity, stamped.source
    return PlayedNote(started_s=started_s, sounding=sounding, place=None, velocity=velocity, source=source)


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
    limits, events = state.setup.limits, list[NoteEvent]()
    for one in ended(state.ringing, message.channel, message.pitch)[1]:
        # A bend at a pitch as the note ends has come to rest there, unless it only goes back for the next pluck.
        goes_back_s = 0.0 if one.told.note.arrived_s is None else AT_ONCE_S
        state, news = _arrived(state, one, at_s, min(goes_back_s, limits.rest_s))
        events += news
    ringing, gone = ended(state.ringing, message.channel, message.pitch)
    if not gone:
        return state, ()
    last, note = gone[-1], gone[-1].told.note
    lasted_s = at_s - last.on_s
    if last.repeats and lasted_s < min(LATE_END_S, limits.shortest_s):
        # The end of the one before, told late.
        return state, tuple(events)
    is_short = lasted_s < limits.shortest_s or (note.velocity < limits.faint and lasted_s < limits.faint_s)
    state = replace(state, ringing=ringing, ended=note, ended_s=at_s, taken_back=is_short)
    if is_short:
        return state, (*events, NoteRevised(before=note, after=None, channel=message.channel, dirt=Dirt.SHORT))
    return state, (*events, *(one.settled(at_s) for one in gone))


def _bent(state: PitchesState, message: PitchBend, at_s: float) -> _Heard:
    channel = state.channels[message.channel - 1].bent(message.bend, at_s)
    state = _with_channel(state, message.channel, channel)
    one = bent_by(state.ringing, message.channel)
    if one is None:
        return state, ()
    if one.resting is not None and message.bend == one.bend_at_pluck:
        # Put back in one go, for the next pluck: it had come to rest.
        return _arrived(state, one, at_s, 0.0)
    pitch = one.number + channel.bent_semitones(state.bend_semitones)
    near = round(pitch)
    if near == one.told.note.sounding or abs(pitch - near) > state.setup.limits.in_tune:
        return state if one.resting is None else _with_ringing(state, one, replace(one, resting=None)), ()
    if one.resting is None or one.resting[0] != near:
        return _with_ringing(state, one, replace(one, resting=(near, at_s))), ()
    return state, ()


def _arrived(state: PitchesState, one: Ringing, now_s: float, rest_s: float) -> _Heard:
    """The state once a note's bend has stayed for `rest_s` where it is."""
    if one.resting is None or now_s - one.resting[1] < rest_s:
        return state, ()
    sounding, since_s = one.resting
    if since_s - one.on_s > state.setup.limits.bend_arrives_s:
        return state, ()
    after, revised = one.arrived(sounding, since_s, state.setup.delay)
    return _with_ringing(state, one, after), (revised,)


def _rested(state: PitchesState, channel_number: int, at_s: float) -> _Heard:
    """The state as a bend is left, a note ends or the next begins: where the bend had come to rest, that may tell how
    far the device bends, and what the notes before were that came to rest so.
    """
    channel, one = state.channels[channel_number - 1], bent_by(state.ringing, channel_number)
    if one is None or channel.range_semitones is not None or channel.bend == one.bend_at_pluck:
        return state, ()
    is_slide = 0 < channel.bent_s - one.on_s <= state.setup.limits.bend_arrives_s
    if not is_slide or at_s - channel.bent_s < RESTS_S:
        return state, ()
    share, bend_share = (channel.bend - one.bend_at_pluck) / FULL_BEND, channel.bend / FULL_BEND
    rest = BendAtRest(share, bend_share, one.number, one.told, one.on_s, channel.bent_s)
    state = replace(state, rests=with_rest(state.rests, rest))
    inferred = inferred_range(state.rests, state.bend_semitones)
    return (state, ()) if inferred is None else _inferred(state, inferred)


def _inferred(state: PitchesState, semitones: float) -> _Heard:
    """The state with a range found out, and the notes that turn out to have slid by it."""
    events: tuple[NoteEvent, ...] = ()
    for rest in state.rests:
        sounding = rest.number + round(rest.bend_share * semitones)
        if sounding != rest.told.note.sounding:
            slid = Ringing(rest.told, rest.number, rest.on_s)
            one = next((other for other in state.ringing if other.told is rest.told), slid)
            after, revised = one.arrived(sounding, rest.since_s, state.setup.delay)
            state, events = _with_ringing(state, one, after), (*events, revised)
    return replace(state, inferred_semitones=semitones, rests=()), events


def _controlled(state: PitchesState, message: ControlChange, at_s: float) -> _Heard:
    if message.silences:
        ringing, gone = ended(state.ringing, message.channel)
        return replace(state, ringing=ringing), tuple(one.settled(at_s) for one in gone)
    was = state.channels[message.channel - 1]
    if announces_mpe(was, message):
        return replace(state, setup=state.setup.as_mpe(), inferred_semitones=None, rests=()), ()
    channel = channel_after(was, message)
    state = _with_channel(state, message.channel, channel)
    if state.setup.is_mpe and channel.range_semitones != was.range_semitones:
        # One range for all of them, whichever it was sent on (MPE 1.0).
        shared = tuple(replace(other, range_semitones=channel.range_semitones) for other in state.channels)
        state = replace(state, channels=shared)
    return state, ()


def _with_channel(state: PitchesState, number: int, channel: Channel) -> PitchesState:
    return replace(state, channels=(*state.channels[: number - 1], channel, *state.channels[number:]))


def _with_ringing(state: PitchesState, one: Ringing, after: Ringing) -> PitchesState:
    return replace(state, ringing=tuple(after if other is one else other for other in state.ringing))
