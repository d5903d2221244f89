"""What is played and plugged in comes to the screen that is there."""

from dataclasses import replace
from functools import partial
from types import SimpleNamespace

import pytest

from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.ports.find_driver import FoundDriver
from game.instrument.ports.live_instrument import open_midi
from game.instrument.ports.microphone import Microphone
from game.instrument.ports.midi_inputs import OFFERED
from game.judging.verdicts import Verdict
from game.message import verbatim
from game.player.device_settings import DeviceSettings, MicrophoneSettings
from game.player.settings import InstrumentKind, Settings
from game.screens.devices import StaticInstruments
from game.screens.instrument_events import InstrumentEvents
from tests.instrument.ports.bench_driver import GUITAR, BenchDriver
from tests.screens.plugged_in import NAME, Plugged


def test_a_guitar_nobody_has_set_up_is_told_how(pickup):
    assert "Settings (S) set it up" in pickup.table.context.window.message


def test_what_was_set_up_is_how_notes_are_read(table):
    pickup = Plugged(table, channels=(16, 15, 14, 13, 12, 11))
    device = DeviceSettings(channels=(16, 15, 14, 13, 12, 11))
    table.context.change_settings(Settings(devices={NAME: device}))
    table.open("F4 h, G4 h")
    home = table.context.settings.neck_map().home_of(53).place
    pickup.pluck(home)
    assert [verdict.verdict for verdict in table.screen.take.answered] == [Verdict.CLEAN]


def test_an_instrument_that_is_pulled_out_and_plugged_in_is_told_to_the_screen(pickup):
    table = pickup.table
    pickup.pull_out()
    assert "is gone" in table.context.window.message
    table.wait(8.0)
    pickup.plug_in()
    assert table.context.message_shown
    assert table.context.devices.instruments.present


def test_one_that_was_set_up_before_is_not_told_how(table):
    table.settle(devices={NAME: DeviceSettings()})
    pickup = Plugged(table)
    pickup.pull_out()
    table.wait(8.0)
    pickup.plug_in()
    assert "sets it up" not in table.context.window.message


def test_one_that_comes_back_into_a_take_is_told_to_be_back_and_not_once_more_how_it_is_set_up(pickup):
    table = pickup.table
    table.open("F4 h, G4 h")
    pickup.pluck(table.context.settings.neck_map().home_of(53).place)
    pickup.pull_out()
    assert "is gone" in table.context.window.message
    pickup.plug_in()
    assert table.context.window.message == f"{NAME} is back. Go on where you were."


def test_a_device_that_cannot_be_opened_is_said_with_the_reason(table):
    driver = BenchDriver(GUITAR)
    driver.busy.add(GUITAR)
    opened = partial(open_midi, find=lambda: FoundDriver(driver, verbatim("MIDI by hand")))
    table.app.instrument_events = InstrumentEvents(table.context, [opened])
    table.wait(0.1)
    assert NAME in table.context.window.message


def _program(table):
    driver = BenchDriver("sender:guitar")
    driver.api = "jack"
    opened = partial(open_midi, find=lambda: FoundDriver(driver, verbatim("MIDI by hand")))
    table.app.instrument_events = InstrumentEvents(table.context, [opened])
    table.wait(0.1)
    return driver


def test_a_program_is_told_what_to_do_and_is_here_once_it_is_wired(table):
    driver = _program(table)
    said = table.context.window.message
    assert said == "sender:guitar is heard once you wire it to the port Homefret in JACK's patchbay."
    driver.play("Homefret", [0xFE])
    table.wait(0.1)
    assert table.context.window.message == "sender:guitar is here. Settings (S) set it up by playing."


def test_a_program_whose_way_by_our_port_was_set_up_is_not_told_how(table):
    table.settle(devices={OFFERED: DeviceSettings()})
    driver = _program(table)
    driver.play("Homefret", [0xFE])
    table.wait(0.1)
    assert table.context.window.message == "sender:guitar is here."


def test_a_program_that_cannot_be_opened_is_told_to_be_wired(table):
    table.settle(device="sender")
    driver = BenchDriver("sender:guitar")
    driver.api = "jack"
    driver.busy.add("sender:guitar")
    opened = partial(open_midi, find=lambda: FoundDriver(driver, verbatim("MIDI by hand")))
    table.app.instrument_events = InstrumentEvents(table.context, [opened])
    table.wait(0.1)
    said = "sender:guitar cannot be listened to (in use). Wire it to the port Homefret in JACK's patchbay."
    assert table.context.window.message == said


def test_settings_that_change_hold_for_the_next_note(table, pickup):
    """A keyboard tells no place."""
    table.open("F4 h, G4 h")
    table.context.change_settings(Settings(instrument=InstrumentKind.KEYBOARD))
    pickup.pluck(table.context.settings.neck_map().home_of(53).place)
    assert "page.pitch_only" in table.context.window.said_once


def test_what_is_closed_lets_go_of_every_port(pickup):
    port = pickup.driver.opened[GUITAR][-1]
    pickup.table.app.instrument_events.close()
    assert port.closed


class HeardGuitar(Microphone):
    """A guitar before a microphone."""

    def __init__(self):
        super().__init__()
        self.coming = []

    def events(self, now_s):  # noqa: ARG002 - part of the interface
        coming, self.coming = self.coming, []
        yield from coming


def note_heard(at_s, sounding=53, *, heard=True):
    return PlayedNote(started_s=at_s, sounding=sounding, place=None, source="a card", heard=heard)


@pytest.fixture
def heard(table):
    """What reaches the screens of what a microphone heard while our own strings sound, and what they do."""
    table.settle(microphone="a card")
    guitar = HeardGuitar()
    events = InstrumentEvents(table.context, [lambda _: guitar])
    strings = SimpleNamespace(sounding=False, set_accompaniment_volume=lambda _: None, set_raised=lambda _: None)
    table.context.devices.sound.strings = strings

    def given(*events_of_guitar):
        guitar.coming += events_of_guitar
        return list(events.events())

    yield SimpleNamespace(table=table, given=given, strings=strings)
    events.close()


def test_what_a_microphone_hears_while_the_game_plays_a_line_is_no_answer_nor_what_becomes_of_it(heard):
    heard.given()
    heard.strings.sounding = True
    heard.table.clock.advance(0.5)
    ours = note_heard(heard.table.clock.now_s())
    other = replace(ours, sounding=54)
    assert heard.given(NoteStarted(note=ours, channel=1), NoteRevised(before=ours, after=other, channel=1)) == []
    heard.strings.sounding = False
    heard.given()
    assert heard.given(NoteRevised(before=other, after=None, channel=1)) == [], "told late, and still ours"
    heard.table.clock.advance(1.0)
    played = NoteStarted(note=note_heard(heard.table.clock.now_s()), channel=1)
    assert heard.given(played) == [played]


def test_a_note_from_before_the_line_is_revised_all_the_same(heard):
    played = note_heard(heard.table.clock.now_s())
    heard.table.clock.advance(0.2)
    heard.given(NoteStarted(note=played, channel=1))
    heard.strings.sounding = True
    revised = NoteRevised(before=played, after=None, channel=1)
    assert heard.given(revised) == [revised]


def test_with_headphones_and_from_a_pickup_everything_counts_while_a_line_sounds(heard):
    heard.strings.sounding = True
    by_pickup = NoteStarted(note=note_heard(heard.table.clock.now_s(), heard=False), channel=1)
    assert heard.given(by_pickup) == [by_pickup]
    heard.table.settle(microphone="a card", microphones={"a card": MicrophoneSettings(headphones=True)})
    by_ear = NoteStarted(note=note_heard(heard.table.clock.now_s()), channel=1)
    assert heard.given(by_ear) == [by_ear]


def test_bass_and_chords_end_where_a_pickup_gives_back_to_a_microphone_and_come_again_with_it(table):
    table.settle(microphone="a card")
    events = InstrumentEvents(table.context, [])
    gains = table.context.devices.sound.metronome._player._gains
    heard = []
    for taken_over in (False, True, False):
        table.context.devices.instruments = StaticInstruments(taken_over=taken_over)
        list(events.events())
        heard.append((table.context.hears_itself, gains[1] > 0))
    assert heard == [(True, False), (False, True), (True, False)]


def test_what_a_pickup_sends_behind_a_capo_answers_the_page_as_it_was_fingered(table):
    """The strings sound three semitones higher, and the page is read from the capo (trade)."""
    pickup = Plugged(table)
    table.context.change_settings(table.context.settings.changed("capo", 3))
    table.open("A3 q, B3 q")
    assert table.screen.take.asked.n == 1
    note = table.screen.take.expected[0]
    place = table.context.settings.neck_map().home_of(note.sounding).place
    pickup.send(0x8F + place.string, note.sounding + 3, 90)
    table.wait(0.3)
    assert table.screen.take.asked.n == 2
    assert "page.pitch_only" not in table.context.window.said_once


def test_a_device_set_up_for_other_strings_than_the_tuning_has_is_told_when_the_tuning_changes(table):
    pickup = Plugged(table)
    device = DeviceSettings(channels=(1, 2, 3, 4, 5, 6))
    table.settle(devices={NAME: device})
    pickup.send(0x90, 64, 90)
    table.wait(0.2)
    table.context.change_settings(table.context.settings.changed("tuning", "seven-string"))
    table.wait(0.2)
    assert "set up for 6 strings" in table.context.window.message
    table.context.change_settings(table.context.settings.changed("tuning", "drop-d"))
    table.context.window.message = ""
    table.wait(0.2)
    assert "set up for" not in table.context.window.message


def press_keys(plugged, *numbers):
    for number in numbers:
        plugged.send(0x90, number, 80)
        plugged.table.wait(0.2)
        plugged.send(0x80, number, 0)


def test_a_keyboard_that_nobody_set_up_is_told_of_and_kept_as_one_without_strings(table):
    plugged = Plugged(table)
    press_keys(plugged, 60)
    assert "on one channel" in table.context.window.message
    assert NAME not in table.context.settings.devices
    press_keys(plugged, 62, 64, 65, 67, 65, 64, 62)
    assert table.context.settings.devices == {NAME: DeviceSettings(periods=0.0, keyboard=True)}


@pytest.mark.parametrize(("velocity", "lasts_s"), [(1, 0.3), (8, 0.02), (30, 0.05), (127, 0.005)])
def test_keys_of_such_a_keyboard_count_however_soft_and_short_also_once_it_is_kept(table, velocity, lasts_s):
    """Each of them would be dirt of a guitar's pickup."""
    plugged = Plugged(table)
    press_keys(plugged, *[60] * 8)
    assert table.context.settings.devices[NAME].keyboard
    table.open("F4 q, G4 q, G4 q, A4 q")
    for number in (53, 55, 55, 57):
        plugged.send(0x90, number, velocity)
        table.wait(lasts_s)
        plugged.send(0x90, number, 0)
        table.wait(0.1)
    answered = table.screen.take.answered if hasattr(table.screen, "take") else table.screen.finished.judgement.verdicts
    assert [verdict.verdict for verdict in answered] == [Verdict.CLEAN] * 4
    assert not table.context.devices.instruments.filtered(NAME)


def test_a_line_played_on_such_a_keyboard_is_right_by_its_pitches(table):
    plugged = Plugged(table)
    press_keys(plugged, 48)
    table.open("F4 h, G4 h")
    press_keys(plugged, 53, 55)
    assert [verdict.verdict for verdict in table.screen.take.answered] == [Verdict.CLEAN, Verdict.CLEAN]
