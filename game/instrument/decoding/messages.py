"""MIDI bytes to messages. Pure; random bytes never raise.

Drivers deliver whole messages, so one is read at a time. What the game has no use for (program change, pressure, system
exclusive, clock) is none. Source for all of it: MIDI 1.0 Detailed Specification.
"""

from dataclasses import dataclass
from functools import lru_cache

# MIDI 1.0: status nibbles of the channel messages.
_NOTE_OFF, _NOTE_ON, _CONTROL_CHANGE, _PITCH_BEND = 0x8, 0x9, 0xB, 0xE
_FIRST_STATUS = 0x80
_BEND_CENTRE = 8192
# MIDI 1.0: what a note-on with velocity 0 means as a note-off.
_DEFAULT_OFF_VELOCITY = 64
# MIDI 1.0, channel mode messages: each of these silences the channel's notes (122, local control, does not).
_SILENCING = frozenset({120, 123, 124, 125, 126, 127})


@dataclass(frozen=True, slots=True)
class NoteOn:
    """`channel` 1 to 16, `pitch` 0 to 127, `velocity` 1 to 127."""

    channel: int
    pitch: int
    velocity: int


@dataclass(frozen=True, slots=True)
class NoteOff:
    """`channel` 1 to 16, `pitch` 0 to 127, `velocity` 0 to 127. A note-on with velocity 0 is one of these."""

    channel: int
    pitch: int
    velocity: int = _DEFAULT_OFF_VELOCITY


@dataclass(frozen=True, slots=True)
class PitchBend:
    """`channel` 1 to 16; `bend` is -8192 to 8191, 0 for none."""

    channel: int
    bend: int


@dataclass(frozen=True, slots=True)
class ControlChange:
    """`channel` 1 to 16, `controller` and `setting` 0 to 127."""

    channel: int
    controller: int
    setting: int

    @property
    def silences(self) -> bool:
        """Whether the channel's notes end with it: all sound off, all notes off and the mode messages."""
        return self.controller in _SILENCING


Message = NoteOn | NoteOff | PitchBend | ControlChange


def decode(message: bytes) -> Message | None:
    """The message a driver delivered whole; None where it is of no use here, cut short, or not a message at
    all.
    """
    return _decode(bytes(message)) if len(message) == 3 else None


@lru_cache(maxsize=4096)
def _decode(message: bytes) -> Message | None:
    status, first, second = message
    if status < _FIRST_STATUS or first >= _FIRST_STATUS or second >= _FIRST_STATUS:
        return None
    kind, channel = status >> 4, (status & 0x0F) + 1
    if kind == _NOTE_ON:
        return NoteOn(channel, first, second) if second else NoteOff(channel, first)
    if kind == _NOTE_OFF:
        return NoteOff(channel, first, second)
    if kind == _CONTROL_CHANGE:
        return ControlChange(channel, first, second)
    if kind == _PITCH_BEND:
        return PitchBend(channel, (second << 7 | first) - _BEND_CENTRE)
    return None
