"""What the free open string is called. In position V it is the sixth, which sounds E2."""

import pytest

from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.player.settings import DeviceSettings, InstrumentKind
from game.screens.devices import StaticInstruments
from game.screens.free_string_words import free_string_in_words

WITHOUT_STRINGS, WITH_STRINGS = DeviceSettings(), DeviceSettings(channels=(1, 2, 3, 4, 5, 6))


def told(table):
    return free_string_in_words(table.context, standard_map(), Place(6, 0))


def test_a_guitar_has_an_open_string(table):
    assert told(table) == "the open sixth string"


def test_whoever_plays_a_keyboard_is_told_the_note(table):
    table.settle(instrument=InstrumentKind.KEYBOARD)
    assert told(table) == "a low E"


@pytest.mark.parametrize(
    ("there", "words"),
    [
        (("keys",), "a low E"),
        (("keys", "guitar"), "the open sixth string"),
        (("new",), "the open sixth string"),
        ((), "the open sixth string"),
    ],
)
def test_so_is_whoever_has_nothing_but_what_tells_no_strings(table, there, words):
    table.settle(devices={"keys": WITHOUT_STRINGS, "guitar": WITH_STRINGS})
    table.context.devices.instruments = StaticInstruments(present=bool(there), devices=there)
    assert told(table) == words
