"""What is plugged in and what is heard, before anything was looked for."""

import subprocess
import sys

from game.audio.sound import silence
from game.music.clicking import ClickSound
from game.music.volumes import Volumes
from game.screens.devices import Devices, StaticInstruments


def test_before_anything_is_looked_for_nothing_is_plugged_in_and_all_is_silent():
    devices = Devices()
    assert devices.instruments == StaticInstruments(found=(), present=False, devices=())
    assert not devices.instruments.filtered("any")
    assert not devices.sound.sounds
    assert devices.sound is devices.sound


def test_a_sound_that_is_opened_later_is_the_one_that_is_heard():
    devices, sound = Devices(), silence()
    devices.sound = sound
    assert devices.sound is sound


def test_volumes_are_those_of_the_sound_that_was_opened_and_open_none():
    devices, loud = Devices(), Volumes(click=1.0, guitar=0.5, accompaniment=0.0, click_sound=ClickSound.BRIGHT)
    devices.set_volumes(loud)
    assert devices.sound.volumes != loud
    devices.set_volumes(loud)
    assert devices.sound.volumes == loud


def test_devices_are_made_without_arrays():
    """The first frame does without them."""
    made = "import sys; from game.screens.devices import Devices; Devices(); sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", made], check=False).returncode == 0
