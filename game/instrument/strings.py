"""A MIDI guitar: one string a channel (MIDI 1.0, mode 4), the fret worked out from the pitch and the
tuning. Pure.

`hear` is a fold over driver messages. A string sounds one note at a time: a new one settles the old,
whether or not its note-off comes. Bends do not change a note yet.
"""

from dataclasses import dataclass

from game.errors import InstrumentError
from game.instrument.messages import NoteOn, PitchBend, decode
from game.instrument.played import NoteEvent, NoteStarted, OffNeck, PlayedNote
from game.instrument.sounding import SILENCE, Sounding
from game.instrument.stamped import StampedMessage
from game.neck.tuning import DEFAULT_FRETS, MAX_FRETS, STANDARD, Place, Tuning

CHANNELS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class StringsSetup:
    """How a guitar reports: `channels[0]` is the channel (1 to 16) of string 1. None is named twice."""

    channels: tuple[int, ...] = (1, 2, 3, 4, 5, 6)
    tuning: Tuning = STANDARD
    frets: int = DEFAULT_FRETS

    def __post_init__(self) -> None:
        strings = len(self.tuning.open_strings)
        named = set(self.channels)
        if len(self.channels) != strings or len(named) != strings or not named <= set(range(1, CHANNELS + 1)):
            raise InstrumentError(
                f"{strings} strings need {strings} different channels from 1 to {CHANNELS}, "
                f"got {', '.join(map(str, self.channels)) or 'none'}: name one for each string"
            )
        if not 1 <= self.frets <= MAX_FRETS:
            raise InstrumentError(f"no neck has {self.frets} frets: give 1 to {MAX_FRETS}")

    def string_of(self, channel: int) -> int | None:
        """The string on a channel, None for a channel that carries no string."""
        return self.channels.index(channel) + 1 if channel in self.channels else None


def channels_from(base_channel: int, *, low_string_first: bool = False, strings: int = 6) -> tuple[int, ...]:
    """The channels of strings 1 to `strings` counted up from `base_channel`, which goes to string 1.

    `low_string_first` gives the base channel to the lowest string instead. Raises `InstrumentError` where
    the count runs past channel 16.
    """
    highest_base = CHANNELS - strings + 1
    if not 1 <= base_channel <= highest_base:
        raise InstrumentError(
            f"base channel {base_channel} leaves no room for {strings} strings below channel {CHANNELS}: "
            f"choose 1 to {highest_base}"
        )
    channels = tuple(range(base_channel, base_channel + strings))
    return channels[::-1] if low_string_first else channels


@dataclass(frozen=True, slots=True)
class StringsState:
    """How the guitar reports, and what sounds: at most one note a string."""

    setup: StringsSetup
    sounding: Sounding = SILENCE


def hear(state: StringsState, stamped: StampedMessage) -> tuple[StringsState, tuple[NoteEvent, ...]]:
    """The state after a message, and what became of notes by it.

    Messages that are not about notes change nothing; a note-off for a note that does not sound neither.
    """
    message = decode(stamped.message)
    if message is None:
        return state, ()
    if isinstance(message, NoteOn):
        return _started(state, message, stamped)
    if isinstance(message, PitchBend):
        return state, ()
    sounding, settled = state.sounding.end_by(message, at_s=stamped.at_s)
    return StringsState(state.setup, sounding), settled


def _started(
    state: StringsState, message: NoteOn, stamped: StampedMessage
) -> tuple[StringsState, tuple[NoteEvent, ...]]:
    place, off_neck = _placed(state.setup, message)
    note = PlayedNote(
        started_s=stamped.at_s,
        sounding=message.pitch,
        place=place,
        velocity=message.velocity,
        source=stamped.source,
    )
    started = NoteStarted(note=note, channel=message.channel, off_neck=off_neck)
    # A channel that is no string's may carry chords: there only the same pitch gives way.
    gives_way = message.pitch if off_neck is OffNeck.NO_STRING else None
    sounding, settled = state.sounding.end(channel=message.channel, at_s=stamped.at_s, pitch=gives_way)
    return StringsState(state.setup, sounding.begin(started)), (*settled, started)


def _placed(setup: StringsSetup, message: NoteOn) -> tuple[Place | None, OffNeck | None]:
    string = setup.string_of(message.channel)
    if string is None:
        return None, OffNeck.NO_STRING
    fret = setup.tuning.fret_of(message.pitch, string)
    if fret < 0:
        return None, OffNeck.BELOW_STRING
    return (None, OffNeck.BEYOND_FRETS) if fret > setup.frets else (Place(string, fret), None)
