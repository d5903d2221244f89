"""A MIDI guitar's messages become notes with string and fret."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.played import NoteRevised, NoteSettled, NoteStarted, OffNeck
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings import StringsState, hear
from game.instrument.decoding.strings_setup import StringsSetup, channels_from
from game.neck.tuning import STANDARD, Place, tuning_named
from tests.instrument.messages_of import sounding_notes, sounding_starts

# MIDI of the open strings, string 1 first (trade; check-values: 40 45 50 55 59 64 from string 6).
OPEN_STRINGS = (64, 59, 55, 50, 45, 40)


def heard(messages, setup=None):
    """All events of (at_s, bytes) pairs, and the state after them."""
    state, events = StringsState(setup or StringsSetup()), []
    for at_s, message in messages:
        state, new = hear(state, StampedMessage(at_s, 0.0, bytes(message), "guitar"))
        events += new
    return events, state


def started(messages, setup=None):
    return [event for event in heard(messages, setup)[0] if isinstance(event, NoteStarted)]


def test_channels_1_to_6_are_strings_1_to_6():
    notes = started((0.0, (0x90 + n, pitch, 80)) for n, pitch in enumerate(OPEN_STRINGS))
    assert [event.note.place for event in notes] == [Place(string, 0) for string in range(1, 7)]


def test_the_fret_is_the_pitch_less_the_open_string():
    (event,) = started([(1.5, (0x94, 52, 99))])
    assert event.note.place == Place(5, 7)
    assert (event.note.started_s, event.note.velocity, event.note.source) == (1.5, 99, "guitar")


def test_every_place_of_the_neck_is_found_by_its_channel():
    """138 places on 22 frets (calc, check-values)."""
    places = [Place(string, fret) for string in range(1, 7) for fret in range(23)]
    assert len(places) == 138
    notes = started((0.5 * n, (0x8F + place.string, STANDARD.sounding(place), 80)) for n, place in enumerate(places))
    assert [event.note.place for event in notes] == places


def test_base_channel_11_in_reverse_has_the_low_string_on_11():
    setup = StringsSetup(channels=channels_from(11, low_string_first=True))
    assert setup.channels == (16, 15, 14, 13, 12, 11)
    (event,) = started([(0.0, (0x9A, 43, 80))], setup)
    assert event.note.place == Place(6, 3)


def test_another_tuning_moves_the_frets():
    setup = StringsSetup(tuning=tuning_named("drop-d"))
    (event,) = started([(0.0, (0x95, 40, 80))], setup)
    assert event.note.place == Place(6, 2)


@pytest.mark.parametrize(
    ("message", "why"),
    [
        ((0x90, 63, 80), OffNeck.BELOW_STRING),
        ((0x90, 87, 80), OffNeck.BEYOND_FRETS),
        ((0x99, 60, 80), OffNeck.NO_STRING),
    ],
)
def test_a_note_off_the_neck_is_reported_without_a_place(message, why):
    (event,) = started([(0.0, message)])
    assert event.note.place is None
    assert event.off_neck is why
    assert event.note.sounding == message[1]


def test_a_new_note_on_a_string_settles_the_one_before_even_without_its_note_off():
    events, state = heard([(0.0, (0x90, 64, 80)), (0.5, (0x90, 66, 80)), (0.6, (0x80, 64, 0))])
    assert [type(event) for event in events] == [NoteStarted, NoteSettled, NoteStarted]
    assert events[1].ended_s == 0.5
    assert events[1].note == events[0].note
    assert [note.sounding for note in sounding_notes(state)] == [66]


def test_strings_ring_together():
    _, state = heard([(0.0, (0x90, 64, 80)), (0.1, (0x91, 59, 80))])
    assert [note.sounding for note in sounding_notes(state)] == [64, 59]


def test_a_note_off_or_velocity_0_settles_its_note():
    for off in ((0x80, 64, 0), (0x90, 64, 0)):
        events, state = heard([(0.0, (0x90, 64, 80)), (0.25, off)])
        assert events[-1] == NoteSettled(note=events[0].note, channel=1, ended_s=0.25)
        assert not sounding_notes(state)


def test_all_notes_off_settles_its_channel_only():
    _, state = heard([(0.0, (0x90, 64, 80)), (0.0, (0x91, 59, 80)), (0.1, (0xB0, 123, 0))])
    assert [note.sounding for note in sounding_notes(state)] == [59]


def test_chords_on_a_channel_that_is_no_string_do_not_end_each_other():
    _, state = heard([(0.0, (0x99, 60, 80)), (0.0, (0x99, 64, 80))])
    assert [note.sounding for note in sounding_notes(state)] == [60, 64]


@given(st.lists(st.tuples(st.integers(0, 255), st.integers(0, 255), st.integers(0, 255)), max_size=60))
def test_whatever_arrives_no_string_sounds_twice_and_all_notes_off_leaves_nothing(messages):
    random_part = [(0.01 * n, message) for n, message in enumerate(messages)]
    _, state = heard(random_part)
    on_strings = [event.channel for event in sounding_starts(state) if event.channel <= 6]
    assert len(on_strings) == len(set(on_strings))
    end = [(10.0, (0xB0 + channel, 123, 0)) for channel in range(16)]
    events, state = heard(random_part + end)
    assert not sounding_starts(state)
    starts = sum(isinstance(event, NoteStarted) for event in events)
    taken_back = sum(isinstance(event, NoteRevised) and event.after is None for event in events)
    assert starts == taken_back + sum(isinstance(event, NoteSettled) for event in events)


@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 22)), max_size=20), st.floats(-1e3, 1e3))
def test_shifting_all_times_shifts_the_notes_and_nothing_else(played, shift_s):
    messages = [(float(n), (0x90 + string, OPEN_STRINGS[string] + fret, 80)) for n, (string, fret) in enumerate(played)]
    before = started(messages)
    after = started([(at_s + shift_s, message) for at_s, message in messages])
    assert [event.note.place for event in before] == [event.note.place for event in after]
    assert [event.note.started_s + shift_s for event in before] == [event.note.started_s for event in after]
