"""One way to listen, whatever the instrument reports. Pure."""

from dataclasses import dataclass

from game.instrument.decoding import keyboard, pitches, strings
from game.instrument.decoding.delay import NO_DELAY, Delay
from game.instrument.decoding.keyboard import KeyboardState
from game.instrument.decoding.pitches import PitchesSetup, PitchesState
from game.instrument.decoding.played import NoteEvent
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings import StringsState
from game.instrument.decoding.strings_setup import StringsSetup

InstrumentState = StringsState | PitchesState | KeyboardState


@dataclass(frozen=True, slots=True)
class KeyboardSetup:
    """A keyboard: every key it tells of was played, at once."""

    delay: Delay = NO_DELAY


Setup = StringsSetup | PitchesSetup | KeyboardSetup


def initial_state(setup: Setup) -> InstrumentState:
    """The state before the first message."""
    if isinstance(setup, StringsSetup):
        return StringsState(setup)
    return PitchesState(setup) if isinstance(setup, PitchesSetup) else KeyboardState(delay=setup.delay)


def hear(state: InstrumentState, stamped: StampedMessage) -> tuple[InstrumentState, tuple[NoteEvent, ...]]:
    """The state after a message, and what became of notes by it."""
    if isinstance(state, StringsState):
        return strings.hear(state, stamped)
    return pitches.hear(state, stamped) if isinstance(state, PitchesState) else keyboard.hear(state, stamped)


def pass_time(state: InstrumentState, now_s: float) -> tuple[InstrumentState, tuple[NoteEvent, ...]]:
    """The state as time passes, and the notes that turned out to be others by it. Call it now and then."""
    if isinstance(state, StringsState):
        return strings.pass_time(state, now_s)
    return pitches.pass_time(state, now_s) if isinstance(state, PitchesState) else (state, ())


def finish(state: InstrumentState, at_s: float) -> tuple[InstrumentState, tuple[NoteEvent, ...]]:
    """Nothing more comes: every note is settled."""
    if isinstance(state, StringsState):
        return strings.finish(state, at_s)
    return pitches.finish(state, at_s) if isinstance(state, PitchesState) else keyboard.finish(state, at_s)
