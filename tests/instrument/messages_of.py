"""Short ways to write what a pickup sends: (at_s, bytes) pairs, and what is heard of them."""

from game.instrument.decoding.decoded import DecodedNotes
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings import StringsState, finish, hear
from game.instrument.decoding.strings_setup import StringsSetup


def on(at_s, number, velocity=80, channel=1):
    return at_s, bytes((0x90 | channel - 1, number, velocity))


def off(at_s, number, channel=1):
    return at_s, bytes((0x80 | channel - 1, number, 0))


def bend(at_s, bend_steps, channel=1):
    """`bend_steps` is -8192 to 8191."""
    value = bend_steps + 8192
    return at_s, bytes((0xE0 | channel - 1, value & 0x7F, value >> 7))


def control(at_s, controller, setting, channel=1):
    return at_s, bytes((0xB0 | channel - 1, controller, setting))


def stamped(messages):
    return [StampedMessage(at_s, 0.0, message, "pickup") for at_s, message in messages]


def events_of(messages, setup=None):
    """All events, and the state before anything is ended."""
    state, events = StringsState(setup or StringsSetup()), []
    for message in stamped(messages):
        state, new = hear(state, message)
        events += new
    return events, state


def heard(messages, setup=None):
    """What was played in the end."""
    whole = DecodedNotes()
    events, state = events_of(messages, setup)
    at_s = messages[-1][0] if messages else 0.0
    for event in (*events, *finish(state, at_s)[1]):
        whole.take(event)
    return whole


def pitches(messages, setup=None):
    return [note.sounding for note in heard(messages, setup).notes]


def sounding_starts(state):
    """What began on a guitar and has not ended, oldest first: at most one note a string."""
    on_strings = [voice.told for voice in state.voices if voice.told is not None and voice.ended_s is None]
    return sorted((*on_strings, *state.others.started), key=lambda event: event.note.started_s)


def sounding_notes(state):
    return [event.note for event in sounding_starts(state)]
