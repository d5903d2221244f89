"""Live MIDI: each device as it was set up, its notes revised as they turn out, its pedals as commands."""

import pytest

from game.clock import HandClock
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.instrument_state import KeyboardSetup
from game.instrument.decoding.played import (
    BendRangeInferred,
    NoteRevised,
    NoteStarted,
    PedalPressed,
    PlaysOnOneChannel,
    RotatesChannels,
)
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup, channels_from
from game.instrument.decoding.usual import USUAL_PEDALS
from game.instrument.ports.live_instrument import ListeningTerms, LiveInstrument
from game.neck.tuning import Place
from tests.instrument.ports.bench_driver import GUITAR, KEYS, BenchDriver, inputs_on

NAMES = {"Guitar MIDI 1": StringsSetup(channels=channels_from(11)), "Keys MIDI 1": KeyboardSetup()}
UNKNOWN = StringsSetup(assumed=True)


@pytest.fixture
def stage():
    """A clock, a driver with a guitar and keys, and what is heard of them."""
    driver, clock = BenchDriver(GUITAR, KEYS), HandClock(10.0)
    live = LiveInstrument(inputs_on(driver, clock, offered=None), NAMES.__getitem__, USUAL_PEDALS)
    return clock, driver, live


def played(stage, port, *messages, every_s=0.01):
    clock, driver, live = stage
    events = []
    for message in messages:
        clock.advance(every_s)
        driver.play(port, list(message))
        events += live.events(clock.now_s())
    return [event for event in events if not isinstance(event, StampedMessage)]


def test_each_device_is_heard_as_it_was_set_up(stage):
    (guitar,) = played(stage, GUITAR, (0x9A, 66, 80))
    assert guitar.note.place == Place(1, 2)
    stage[0].advance(3.0)
    (keys,) = played(stage, KEYS, (0x90, 66, 80))
    assert keys.note.place is None


def test_a_ghost_is_told_and_taken_back_and_counted(stage):
    events = played(stage, GUITAR, (0x9A, 66, 80), (0x8A, 66, 0))
    assert [type(event) for event in events] == [NoteStarted, NoteRevised]
    assert events[1].after is None
    assert stage[2].filtered("Guitar MIDI 1") == {Dirt.SHORT: 1}


def test_a_bend_arrives_as_time_passes_without_another_message(stage):
    clock, _, live = stage
    played(stage, GUITAR, (0x9A, 66, 80), (0xEA, 0, 96))
    clock.advance(0.1)
    (event,) = live.events(clock.now_s())
    assert event.after.sounding == 67


def test_a_pedal_is_told_when_it_goes_down(stage):
    events = played(stage, GUITAR, (0xB0, 64, 127), (0xB0, 64, 0))
    assert events == [PedalPressed(pytest.approx(10.01))]


def test_a_device_that_says_mpe_is_heard_by_pitch_from_then_on(stage):
    events = played(stage, GUITAR, (0xB0, 101, 0), (0xB0, 100, 6), (0xB0, 6, 15), (0x9A, 66, 80))
    assert events[0] == RotatesChannels("Guitar MIDI 1")
    assert events[1].note.place is None


def test_a_device_that_says_mpe_slides_by_bends_of_48_semitones_from_then_on(stage):
    """The range of a channel that MPE gives to notes (MPE 1.0): two frets are a twenty-fourth of a full bend."""
    played(stage, GUITAR, (0xB0, 101, 0), (0xB0, 100, 6), (0xB0, 6, 15), (0x9A, 64, 80))
    bend = 8192 + round(8192 * 2 / 48)
    played(stage, GUITAR, (0xEA, bend & 127, bend >> 7))
    stage[0].advance(0.1)
    (event,) = stage[2].events(stage[0].now_s())
    assert (event.before.sounding, event.after.sounding) == (64, 66)


def test_every_message_is_told_before_what_it_comes_to(stage):
    clock, driver, live = stage
    driver.play(GUITAR, [0x9A, 66, 80])
    message, note = live.events(clock.now_s())
    assert message.message == bytes((0x9A, 66, 80))
    assert isinstance(note, NoteStarted)


def test_a_changed_set_up_holds_from_the_next_note_on(stage, monkeypatch):
    played(stage, GUITAR, (0x9A, 66, 80))
    monkeypatch.setitem(NAMES, "Guitar MIDI 1", KeyboardSetup())
    stage[2].settle(ListeningTerms(now_s=stage[0].now_s, setup_for=NAMES.__getitem__, pedals=USUAL_PEDALS))
    (event,) = played(stage, GUITAR, (0x9A, 67, 80))
    assert event.note.place is None


def test_a_device_that_bends_farther_than_most_and_does_not_say_so_is_found_out_and_told_once(stage):
    """A full bend of twelve semitones: slides of one, two, three frets rest at twelfths of it."""
    events = []
    for frets in (1, 2, 3, 2, 1):
        bend = 8192 + round(8192 * frets / 12)
        events += played(stage, GUITAR, (0xEA, 0, 64), (0x9A, 66, 80), (0xEA, bend & 127, bend >> 7))
        stage[0].advance(0.4)
        events += played(stage, GUITAR, (0x8A, 66, 0))
    assert [event for event in events if isinstance(event, BendRangeInferred)] == [
        BendRangeInferred("Guitar MIDI 1", 12.0)
    ]


@pytest.fixture
def unknown():
    """The same where nobody set anything up."""
    driver, clock = BenchDriver(GUITAR, KEYS), HandClock(10.0)
    return clock, driver, LiveInstrument(inputs_on(driver, clock, offered=None), lambda _: UNKNOWN, USUAL_PEDALS)


def key(number):
    return (0x90, number, 80), (0x80, number, 0)


def started(events):
    return [event.note.place for event in events if isinstance(event, NoteStarted)]


def test_keys_that_nobody_set_up_are_heard_by_pitch_once_one_is_too_low_for_the_string_of_their_channel(unknown):
    events = played(unknown, KEYS, *key(64), *key(60), *key(64), every_s=0.1)
    assert started(events) == [Place(1, 0), None, None]
    assert [event for event in events if isinstance(event, PlaysOnOneChannel)] == [
        PlaysOnOneChannel("Keys MIDI 1", surely=False)
    ]


def test_that_they_are_is_told_once_more_when_it_is_sure(unknown):
    events = played(unknown, KEYS, *key(60) * 20, every_s=0.1)
    told = [event.surely for event in events if isinstance(event, PlaysOnOneChannel)]
    assert told == [False, True]


def test_a_guitar_that_is_tuned_low_has_its_strings_back_with_the_second_of_them(unknown):
    events = played(unknown, GUITAR, *key(60), (0x91, 60, 80), (0x81, 60, 0), *key(65), every_s=0.1)
    assert started(events) == [None, Place(2, 1), Place(1, 1)]


def test_what_was_set_up_is_never_taken_for_a_keyboard(stage):
    events = played(stage, GUITAR, (0x9A, 50, 80), (0x8A, 50, 0), every_s=0.1)
    assert isinstance(events[0], NoteStarted)
    assert not any(isinstance(event, PlaysOnOneChannel) for event in events)
