"""A MIDI keyboard, or anything that does not report strings: pitch only, channels ignored. Pure."""

from dataclasses import dataclass

from game.instrument.messages import NoteOn, decode
from game.instrument.played import NoteEvent, NoteStarted, PlayedNote
from game.instrument.sounding import SILENCE, Sounding
from game.instrument.stamped import StampedMessage


@dataclass(frozen=True, slots=True)
class KeyboardState:
    """The keys that are down."""

    sounding: Sounding = SILENCE


def hear(state: KeyboardState, stamped: StampedMessage) -> tuple[KeyboardState, tuple[NoteEvent, ...]]:
    """The state after a message, and what became of notes by it. Every note's place is None."""
    message = decode(stamped.message)
    if message is None:
        return state, ()
    if not isinstance(message, NoteOn):
        sounding, settled = state.sounding.end_by(message, at_s=stamped.at_s)
        return KeyboardState(sounding), settled
    started = NoteStarted(
        note=PlayedNote(
            started_s=stamped.at_s,
            sounding=message.pitch,
            place=None,
            velocity=message.velocity,
            source=stamped.source,
        ),
        channel=message.channel,
    )
    sounding, settled = state.sounding.end(channel=message.channel, at_s=stamped.at_s, pitch=message.pitch)
    return KeyboardState(sounding.begin(started)), (*settled, started)
