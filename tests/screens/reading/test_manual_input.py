"""Notes played without an instrument, by mouse and keyboard."""

import pygame
import pytest

from game.instrument.sources.computer_keys import SOURCE
from game.instrument.sources.note_sources import SCREEN_NECK_SOURCE
from game.neck.tuning import Place
from game.player.device_settings import MicrophoneSettings
from game.screens.reading.manual_input import ManualInput
from tests.instrument.keys import key_of
from tests.screens.table import Table


class HeardSound:
    """A sound that remembers what was plucked."""

    def __init__(self):
        self.plucked = []

    def pluck(self, sounding):
        self.plucked.append(sounding)


@pytest.fixture
def played(table):
    """An open page with its neck shown, and the hands on it."""
    table.open("F4 h, G4 h")
    table.context.devices.sound = HeardSound()
    return ManualInput(table.context, table.screen.view)


def key_event(scancode, mod=0):
    return pygame.event.Event(pygame.KEYDOWN, key=0, unicode="", mod=mod, scancode=scancode)


def test_a_click_on_the_neck_is_the_note_of_that_place_and_is_heard(table, played):
    note = played.note_of_click(tuple(map(round, table.screen.view.neck.centre_of(Place(5, 8)))))
    assert (note.sounding, note.place, note.source) == (53, Place(5, 8), SCREEN_NECK_SOURCE)
    assert note.started_s == table.clock.now_s()
    assert table.context.devices.sound.plucked == [53]


def test_where_a_microphone_listens_no_tone_of_ours_is_sounded_that_it_would_hear_unless_headphones_were_said(
    table, played
):
    there = tuple(map(round, table.screen.view.neck.centre_of(Place(5, 8))))
    table.settle(microphone="a card")
    assert played.note_of_click(there).sounding == 53
    assert table.context.devices.sound.plucked == []
    table.settle(microphone="a card", microphones={"a card": MicrophoneSettings(headphones=True)})
    played.note_of_click(there)
    assert table.context.devices.sound.plucked == [53]


def test_a_click_beside_the_neck_or_without_one_is_no_note(table, played):
    assert played.note_of_click((3, 3)) is None
    table.screen.view.neck_shown = False
    assert played.note_of_click((640, 560)) is None
    assert table.context.devices.sound.plucked == []


def test_a_key_plays_a_place_of_the_position(table, played):
    place = Place(5, 8)
    key = key_of(place, position=5)
    note = played.note_of_key(key_event(key.scancode, pygame.KMOD_SHIFT if key.shift else 0))
    assert (note.sounding, note.place, note.source) == (53, place, SOURCE)
    assert table.context.devices.sound.plucked == [53]


def test_a_key_that_is_none_plays_nothing(played):
    assert played.note_of_key(key_event(pygame.KSCAN_F12)) is None


def test_how_to_play_without_an_instrument_is_told_once(table):
    table.open("F4 h, G4 h")
    told = table.context.window.message
    assert "keys" in told
    table.wait(8.0)
    table.open("F4 h, G4 h")
    assert not table.context.message_shown


def test_who_has_a_guitar_plugged_in_is_not_told(tmp_path):
    table = Table(tmp_path, guitar=True)
    table.open("F4 h, G4 h")
    assert not table.context.message_shown
