"""A MIDI keyboard, or anything that does not report strings: pitch only, whatever the channel. Pure.

A key under the sustain pedal sounds on when it is released, and settles when the pedal comes up.
"""

from dataclasses import dataclass, field, replace

from game.instrument.decoding.channel import INITIAL_CHANNEL, channel_after
from game.instrument.decoding.delay import NO_DELAY, Delay
from game.instrument.decoding.messages import ControlChange, NoteOff, NoteOn, decode
from game.instrument.decoding.played import NoteEvent, NoteStarted, PlayedNote
from game.instrument.decoding.sounding_notes import SILENCE, SoundingNotes
from game.instrument.decoding.stamped import StampedMessage


@dataclass(frozen=True, slots=True)
class KeyboardState:
    """The keys that are down; `pedalled` are the channels whose sustain pedal is, and `let_go` what was released
    under it, as (channel, MIDI number). `delay` is taken out of the times of notes.
    """

    sounding_notes: SoundingNotes = SILENCE
    pedalled: frozenset[int] = field(default_factory=frozenset)
    let_go: frozenset[tuple[int, int]] = field(default_factory=frozenset)
    delay: Delay = NO_DELAY


_Heard = tuple[KeyboardState, tuple[NoteEvent, ...]]


def hear(state: KeyboardState, stamped: StampedMessage) -> _Heard:
    """The state after a message, and what became of notes by it. Every note's place is None."""
    message = decode(stamped.message)
    if message is None:
        return state, ()
    if isinstance(message, NoteOn):
        return _struck(state, message, stamped)
    if isinstance(message, NoteOff) and message.channel in state.pedalled:
        return replace(state, let_go=state.let_go | {(message.channel, message.pitch)}), ()
    if isinstance(message, ControlChange) and not message.silences:
        return _pedalled(state, message, stamped.at_s)
    sounding, settled = state.sounding_notes.end_by(message, at_s=stamped.at_s)
    return replace(state, sounding_notes=sounding), settled


def finish(state: KeyboardState, at_s: float) -> _Heard:
    """Nothing more comes: every note is settled."""
    events: tuple[NoteEvent, ...] = ()
    sounding = state.sounding_notes
    for channel in {event.channel for event in sounding.started}:
        sounding, settled = sounding.end(channel=channel, at_s=at_s)
        events = (*events, *settled)
    return replace(state, sounding_notes=sounding, let_go=frozenset()), events


def _struck(state: KeyboardState, message: NoteOn, stamped: StampedMessage) -> _Heard:
    started = NoteStarted(
        note=PlayedNote(
            started_s=stamped.at_s - state.delay.of(message.pitch),
            sounding=message.pitch,
            place=None,
            velocity=message.velocity,
            source=stamped.source,
        ),
        channel=message.channel,
    )
    sounding, settled = state.sounding_notes.end(channel=message.channel, at_s=stamped.at_s, pitch=message.pitch)
    let_go = state.let_go - {(message.channel, message.pitch)}
    return replace(state, sounding_notes=sounding.begin(started), let_go=let_go), (*settled, started)


def _pedalled(state: KeyboardState, message: ControlChange, at_s: float) -> _Heard:
    was = message.channel in state.pedalled
    now = channel_after(replace(INITIAL_CHANNEL, pedal=was), message).pedal
    if now == was:
        return state, ()
    if now:
        return replace(state, pedalled=state.pedalled | {message.channel}), ()
    sounding, events = state.sounding_notes, tuple[NoteEvent, ...]()
    for channel, pitch in sorted(state.let_go):
        if channel == message.channel:
            sounding, settled = sounding.end(channel=channel, at_s=at_s, pitch=pitch)
            events = (*events, *settled)
    let_go = frozenset(key for key in state.let_go if key[0] != message.channel)
    return replace(state, sounding_notes=sounding, pedalled=state.pedalled - {message.channel}, let_go=let_go), events
