"""A sound device that goes is told, and one that comes is opened, but in no take."""

from types import SimpleNamespace

import pytest

from game.screens.sound_device import SoundDevice

CAME = SimpleNamespace(which=1, iscapture=0)


class Silent:
    """Sound that is lost, and sounds once it is opened again."""

    sounds = False

    def __init__(self):
        self.lost, self.opened = [], 0

    def is_on(self, which, *, is_capture):
        return which == 1 and not is_capture

    def device_lost(self):
        self.lost.append(True)

    def opened_again(self):
        self.opened += 1
        self.sounds = True
        return self


@pytest.fixture
def silent(table):
    real = table.context.devices.sound
    table.context.devices.sound = Silent()
    yield table.context.devices.sound
    table.context.devices.sound = real


def test_one_that_comes_is_opened_once_the_take_is_over(table, silent):
    device = SoundDevice(table.context)
    device.added(CAME, SimpleNamespace(in_take=True))
    assert silent.opened == 0
    device.open_again(SimpleNamespace(in_take=False))
    assert silent.opened == 1
    assert "is back" in table.context.window.message
    device.open_again(SimpleNamespace(in_take=False))
    assert silent.opened == 1


def test_a_microphone_that_comes_opens_nothing(table, silent):
    SoundDevice(table.context).added(SimpleNamespace(which=1, iscapture=1), SimpleNamespace(in_take=False))
    assert silent.opened == 0


def test_only_our_own_that_goes_is_lost(table, silent, monkeypatch):
    said = []
    monkeypatch.setattr(type(table.context), "say_sound", lambda _: said.append(True))
    device = SoundDevice(table.context)
    device.removed(SimpleNamespace(which=2, iscapture=0))
    assert silent.lost == said == []
    device.removed(SimpleNamespace(which=1, iscapture=0))
    assert silent.lost == said == [True]
