"""The list of instruments, and what can be settled for each."""

import pygame

from game.neck.tuning import Place
from game.player.settings import DeviceSettings, Settings
from game.screens.routes import ToInstruments
from tests.screens.plugged_in import NAME


def test_another_pedal_is_learned_by_pressing_it(table, pickup):
    table.go(ToInstruments())
    table.key(pygame.K_p)
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
    table.key(pygame.K_BACKSPACE)
    assert not table.context.settings.devices
