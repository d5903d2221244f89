"""On the sheets behind tabs and settings no key works that is not told, and each box there does something."""

import pygame
import pytest

from game.neck.tuning import Place
from game.player.device_settings import DeviceSettings
from game.screens.routes import (
    ToDelay,
    ToGoodNight,
    ToInstruments,
    ToLines,
    ToMap,
    ToMicrophone,
    ToMicrophones,
    ToPlayers,
    ToProgress,
    ToSettings,
    ToSetUp,
    ToSharing,
    ToToday,
    ToTuner,
)
from game.screens.setup.map_choice import look_at_place
from tests.sampling import sample
from tests.screens.fake_microphone import FakeMicrophone
from tests.screens.table import Table

KEYS = [
    *range(pygame.K_a, pygame.K_z + 1),
    *range(pygame.K_0, pygame.K_9 + 1),
    *range(pygame.K_F4, pygame.K_F11),
    *(pygame.K_RETURN, pygame.K_SPACE, pygame.K_BACKSPACE, pygame.K_TAB, pygame.K_DELETE, pygame.K_INSERT),
    *(pygame.K_UP, pygame.K_DOWN, pygame.K_LEFT, pygame.K_RIGHT, pygame.K_PAGEUP, pygame.K_PAGEDOWN),
    *(pygame.K_HOME, pygame.K_END, pygame.K_F12, pygame.K_PERIOD, pygame.K_COMMA, pygame.K_MINUS, pygame.K_SLASH),
]
ALWAYS = {pygame.K_F6, pygame.K_F7, pygame.K_F11}
"""The size of the staff and the full screen, which every sheet of keys tells."""

SHEETS = {
    "today": ToToday(),
    "good night": ToGoodNight(),
    "map": ToMap(),
    "progress": ToProgress(),
    "lines": ToLines(),
    "settings": ToSettings(),
    "players": ToPlayers(),
    "sharing": ToSharing(),
    "instruments": ToInstruments(),
    "set up": ToSetUp("blue pickup"),
    "delay": ToDelay("blue pickup"),
    "microphones": ToMicrophones(),
    "microphone": ToMicrophone("blue interface"),
    "tuner": ToTuner(),
}


def opened(folder, name):
    """The sheet as it is full: with devices, homes of one's own, and a note that is looked at."""
    table = Table(folder, size=(960, 600))
    table.settle(choices={64: (2, 5)}, devices={"one": DeviceSettings(), "other": DeviceSettings()})
    # Which inputs the computer has, and when it says so, is no matter of keys.
    microphone = FakeMicrophone(table)
    table.go(SHEETS[name])
    if name == "microphones":
        microphone.answer(table)
    if name == "map":
        table.screen.shown.looked = look_at_place(table.screen.shown.neck_map, Place(3, 4))
    # What is said of itself, as how long one should rest, is none of the keys.
    table.context.window.message = ""
    table.app.draw()
    return table


def pressed(table, key):
    """What a key does: whether another picture or another screen stands there."""
    before, screen = table.picture(), table.screen
    table.key(key, chr(key) if key < 128 else "")
    table.context.window.message = ""
    return table.screen is not screen or table.picture() != before


@pytest.mark.parametrize("name", sample(SHEETS, by_default=1))
def test_no_key_works_that_is_not_told(tmp_path, name):
    table = opened(tmp_path, name)
    told = {press.key for hint in table.context.window.told_keys for press in hint.presses}
    assert told >= {pygame.K_ESCAPE}
    strangers = [key for key in KEYS if key not in told | ALWAYS]
    assert not [pygame.key.name(key) for key in strangers if pressed(table, key)]


@pytest.mark.parametrize(
    "name", sample(["map", "progress", "lines", "settings", "players", "instruments"], by_default=1)
)
def test_every_box_on_the_sheet_is_clicked_and_does_something(tmp_path, name):
    table = opened(tmp_path, name)
    for press in dict.fromkeys(press for _, press in table.context.window._boxes):
        again = opened(tmp_path / str(press.key), name)
        before, screen = again.picture(), again.screen
        box = next(box for box, here in again.context.window._boxes if here == press)
        again.click(box.center)
        same_tab = screen.tab is not None and press == screen.tab.press
        assert again.screen is not screen or again.picture() != before or same_tab, pygame.key.name(press.key)
