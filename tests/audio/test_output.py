"""Opening the sound device."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from pygame import mixer

from game.audio.output import SoundStatus, gain, is_our_loss, open_output

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(autouse=True)
def nothing_open():
    """A mixer that another test left open would be taken as it is."""
    mixer.quit()


def test_starting_the_program_brings_in_no_sound():
    """Settings know of clicks before the first frame: neither numpy nor the mixer comes with them."""
    program = (
        "import sys\nimport game.audio.beats, game.player.settings\n"
        "print([name for name in ('numpy', 'pygame', 'pygame.mixer') if name in sys.modules])"
    )
    ended = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, cwd=ROOT, check=True)
    assert ended.stdout.strip() == "[]"


def test_without_a_device_the_mixer_still_works_in_silence_and_the_environment_is_as_before(
    monkeypatch: pytest.MonkeyPatch,
):
    monkeypatch.setenv("SDL_AUDIODRIVER", "no such driver")
    output = open_output()
    try:
        assert not output.audible
        assert output.status is SoundStatus.NO_DEVICE
        assert mixer.get_init() == (44100, -16, 2)
        assert os.environ["SDL_AUDIODRIVER"] == "no such driver"
    finally:
        mixer.quit()


def test_an_output_that_is_open_in_another_format_is_opened_again(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    mixer.init(22050, 8, 1, 512, allowedchanges=0)
    try:
        output = open_output()
        assert mixer.get_init() == (output.rate, -16, 2)
    finally:
        mixer.quit()


def test_an_open_output_is_kept_unless_it_is_to_be_opened_anew(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    try:
        open_output()
        sound = mixer.Sound(buffer=bytes(4 * 44100))
        sound.play()
        open_output()
        assert mixer.get_busy()
        open_output(anew=True)
        assert not mixer.get_busy()
    finally:
        mixer.quit()


def test_only_the_loss_of_the_device_we_play_into_is_ours():
    assert is_our_loss(2, is_capture=False)
    assert not is_our_loss(0, is_capture=False)
    assert not is_our_loss(2, is_capture=True)


def test_volume_is_squared_and_held_between_nothing_and_all():
    assert [gain(volume) for volume in (-1, 0, 0.5, 1, 3)] == [0, 0, 0.25, 1, 1]
