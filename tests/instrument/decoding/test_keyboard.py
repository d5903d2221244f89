"""A MIDI keyboard gives pitches and no places."""

from game.instrument.decoding.instrument_state import KeyboardSetup, hear, initial_state
from game.instrument.decoding.played import NoteSettled, NoteStarted
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup


def heard(messages, setup):
    state, events = initial_state(setup), []
    for at_s, message in messages:
        state, new = hear(state, StampedMessage(at_s, 0.0, bytes(message), "keys"))
        events += new
    return events


def test_a_keyboard_note_has_no_place_on_any_channel():
    events = heard([(0.0, (0x90 + channel, 60, 80)) for channel in range(16)], KeyboardSetup())
    assert all(event.note.place is None and event.off_neck is None for event in events)
    assert len(events) == 16


def test_keys_sound_together_until_each_is_released():
    events = heard(
        [(0.0, (0x90, 60, 80)), (0.1, (0x90, 64, 80)), (0.2, (0x90, 60, 0)), (0.3, (0xF8,))], KeyboardSetup()
    )
    assert [type(event) for event in events] == [NoteStarted, NoteStarted, NoteSettled]
    assert events[2].note.sounding == 60


def test_the_same_key_again_without_a_release_settles_the_first():
    events = heard([(0.0, (0x90, 60, 80)), (0.1, (0x90, 60, 90))], KeyboardSetup())
    assert [type(event) for event in events] == [NoteStarted, NoteSettled, NoteStarted]


def test_the_same_messages_have_places_on_a_guitar():
    (event,) = heard([(0.0, (0x90, 69, 80))], StringsSetup())
    assert event.note.place.fret == 5


def test_a_key_under_the_sustain_pedal_settles_when_the_pedal_comes_up():
    """Controller 64, 64 and more is down: MIDI 1.0."""
    pedalled = [(0.0, (0xB0, 64, 127)), (0.1, (0x90, 60, 80)), (0.3, (0x80, 60, 0)), (0.9, (0xB0, 64, 0))]
    events = heard(pedalled, KeyboardSetup())
    assert [type(event) for event in events] == [NoteStarted, NoteSettled]
    assert events[-1].ended_s == 0.9
