"""The list of instruments, and what can be settled for each."""

import pygame

from game.neck.tuning import Place
from game.player.device_settings import DeviceSettings, MicrophoneSettings
from game.player.settings import Settings
from game.screens.devices import StaticInstruments
from game.screens.routes import ToInstruments
from tests.screens.plugged_in import NAME


def test_another_pedal_is_learned_by_pressing_it(table, pickup):
    table.go(ToInstruments())
    table.key(pygame.K_j)
    pickup.send(0xB0, 4, 127)
    assert 4 in table.context.settings.pedals


def test_the_list_follows_what_is_played_and_a_device_can_be_the_only_one(table, pickup):
    table.go(ToInstruments())
    pickup.pluck(Place(2, 5))
    assert "string 2, fret 5" in table.screen._last_words()
    table.key(pygame.K_l)
    assert table.context.settings.device == NAME
    table.key(pygame.K_l)
    assert table.context.settings.device == ""


def test_a_forgotten_device_is_taken_for_a_guitar_as_most_are(table):
    table.context.change_settings(Settings(devices={NAME: DeviceSettings()}))
    table.go(ToInstruments())
    table.key(pygame.K_DELETE)
    assert not table.context.settings.devices


def test_a_click_chooses_a_device_and_the_corner_sets_it_up(table):
    table.context.change_settings(Settings(devices={"one": DeviceSettings(), "other": DeviceSettings()}))
    table.go(ToInstruments())
    top, bottom = table.screen._row_ends["other"]
    table.click((300, (top + bottom) / 2))
    assert table.screen._device == "other"
    table.key(pygame.K_RETURN)
    assert table.screen._name == "other"
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "InstrumentsScreen"


def test_without_any_the_corner_leads_to_how_a_plain_guitar_is_heard(table):
    table.go(ToInstruments())
    table.key(pygame.K_RETURN)
    assert table.screen_name == "MicrophonesScreen"


def test_where_a_guitar_is_heard_its_tuner_is_in_the_list_and_the_input_is_no_pickup(table):
    table.settle(microphone="an interface", microphones={"an interface": MicrophoneSettings()})
    table.context.devices.instruments = StaticInstruments(present=True, devices=("an interface",))
    table.go(ToInstruments())
    assert table.screen._devices == ()
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TunerScreen"
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "InstrumentsScreen"


def test_more_devices_than_there_is_room_for_can_all_be_reached(table):
    table.context.change_settings(Settings(devices={f"device {number}" * 5: DeviceSettings() for number in range(30)}))
    table.go(ToInstruments())
    shown = set()
    for _ in range(31):
        assert table.screen._row in table.screen._row_ends
        shown |= set(table.screen._row_ends)
        table.key(pygame.K_DOWN)
    assert shown == set(table.screen._rows)
    assert len(shown) == 31


def _plug_in(table, *names):
    table.context.devices.instruments = StaticInstruments(present=bool(names), devices=names)
    table.wait(0.1)


def test_a_device_that_was_chosen_stays_so_while_others_are_plugged_in_and_out(table):
    _plug_in(table, "piano", "pickup")
    table.go(ToInstruments())
    table.key(pygame.K_DOWN)
    for there in (("organ", "piano", "pickup"), ("organ", "pickup"), ("pickup",), ("pickup", "organ")):
        _plug_in(table, *there)
        assert table.screen._device == "pickup"
    table.key(pygame.K_l)
    assert table.context.settings.device == "pickup"


def test_where_the_chosen_device_is_pulled_out_what_stands_in_its_place_is_chosen(table):
    _plug_in(table, "piano", "pickup", "organ")
    table.go(ToInstruments())
    table.key(pygame.K_DOWN)
    _plug_in(table, "piano", "organ")
    assert table.screen._device == "organ"
    _plug_in(table)
    assert table.screen._device is None


def test_whoever_plugs_in_their_first_device_before_the_list_has_it_chosen(table):
    table.go(ToInstruments())
    assert table.screen._device is None
    _plug_in(table, "piano")
    assert table.screen._device == "piano"
    _plug_in(table, "organ", "piano")
    assert table.screen._device == "piano"


def test_a_row_that_was_chosen_below_the_devices_stays_so_as_one_is_plugged_in(table):
    _plug_in(table, "piano")
    table.go(ToInstruments())
    table.key(pygame.K_DOWN)
    _plug_in(table, "piano", "organ")
    table.key(pygame.K_RETURN)
    assert table.screen_name == "MicrophonesScreen"
