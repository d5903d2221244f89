"""How a plain guitar is heard: inputs by their names, and the way without any."""

from threading import Event

import pygame
import pytest

from game.message import message
from game.player.device_settings import MicrophoneSettings
from game.player.settings import InstrumentKind
from game.screens.routes import ToMicrophones, ToSettings
from game.screens.setup.microphones_screen import ASKED_AGAIN_S
from tests.screens.fake_microphone import FakeMicrophone


@pytest.fixture
def microphone(table):
    return FakeMicrophone(table)


def opened(table, microphone, *, first=False):
    table.go(ToMicrophones(first=first))
    microphone.answer(table)
    return table.screen


def test_nothing_is_chosen_before_it_is_chosen(table, microphone):
    opened(table, microphone)
    assert table.context.settings.microphone == ""
    assert table.screen.rows == ("an interface", "a webcam", "")


def test_an_input_that_is_chosen_is_set_up_next(table, microphone):
    opened(table, microphone)
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert table.context.settings.microphone == "a webcam"
    assert table.screen_name == "MicrophoneScreen"


def test_the_way_without_stays_chosen_where_inputs_are_found_only_after_it_was_chosen(table, microphone):
    table.settle(microphone="an interface", microphones={"an interface": MicrophoneSettings()})
    told = Event()
    microphone.inputs = lambda: microphone.names if told.wait(60) else ()
    table.go(ToMicrophones())
    assert table.screen.rows == ("an interface", "")
    table.key(pygame.K_DOWN)
    told.set()
    microphone.answer(table)
    assert table.screen.rows == ("an interface", "a webcam", "")
    table.key(pygame.K_RETURN)
    assert not table.context.listens


def test_marking_it_oneself_is_the_last_row_and_stays_possible(table, microphone):
    opened(table, microphone)
    table.key(pygame.K_UP)
    table.key(pygame.K_RETURN)
    assert table.context.settings.instrument is InstrumentKind.NO_PICKUP
    assert table.screen_name == "TodayScreen"


def test_where_nothing_is_found_it_says_what_to_do_and_the_way_without_stays_open(table, microphone):
    microphone.names = ()
    screen = opened(table, microphone)
    assert screen._said() == (
        "No audio input was found: plug a microphone or an audio interface in, and it appears here.",
        True,
    )
    table.key(pygame.K_RETURN)
    assert not table.context.listens


def test_where_it_is_known_why_nothing_is_found_that_is_said(table, microphone):
    microphone.names, microphone.trouble = (), message("mic.opening")
    assert opened(table, microphone)._said() == ("The input is being opened.", True)


def test_an_input_that_is_plugged_in_appears_and_moves_no_choice(table, microphone):
    opened(table, microphone)
    table.key(pygame.K_DOWN)
    microphone.names = ("a new one", "an interface", "a webcam")
    table.wait(ASKED_AGAIN_S + 0.2, frame_s=0.1)
    microphone.answer(table)
    assert table.screen.rows == ("a new one", "an interface", "a webcam", "")
    assert table.screen._name == "a webcam"


def test_the_input_that_was_chosen_is_in_the_list_also_while_it_is_not_there(table, microphone):
    table.settle(microphone="gone", microphones={"gone": MicrophoneSettings(set_up=True)})
    screen = opened(table, microphone)
    assert screen.rows == ("an interface", "a webcam", "gone", "")
    assert screen._name == "gone"
    assert screen._below("gone") == "not plugged in"


def test_how_an_input_was_set_up_stands_below_it(table, microphone):
    table.settle(microphones={"a webcam": MicrophoneSettings(channel=2, delay_ms=42.6, set_up=True)})
    screen = opened(table, microphone)
    assert screen._below("a webcam") == "set up: channel 2, 43 ms taken out"
    assert screen._below("an interface") == "Set up by playing, in under a minute."


def test_the_list_does_not_wait_for_the_system(table, microphone):
    table.go(ToMicrophones())
    assert table.screen.rows[-1] == ""
    microphone.answer(table)


def test_a_click_chooses_a_row_and_the_settings_lead_here(table, microphone):
    table.go(ToSettings())
    table.key(pygame.K_TAB)
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "MicrophonesScreen"
    microphone.answer(table)
    table.app.draw()
    top, bottom = table.screen._row_ends[1]
    table.click((300, (top + bottom) / 2))
    assert table.screen._name == "a webcam"
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "SettingsScreen"


def test_forty_inputs_can_all_be_reached(table, microphone):
    microphone.names = tuple(f"input {number} of a large interface" * 3 for number in range(40))
    opened(table, microphone)
    shown = set()
    for _ in range(41):
        table.app.draw()
        assert table.screen._chosen in table.screen._row_ends
        shown |= set(table.screen._row_ends)
        table.key(pygame.K_DOWN)
    assert shown == set(range(41))
