"""The clicks beside a microphone: above the guitar, soon over, and no louder than the wooden ones."""

import numpy as np
import pytest

from game.audio.beats import ClickKind
from game.audio.bright_clicks import BRIGHT_CLICKS, BrightClick
from game.audio.clicks import click_sounds
from game.audio.make_sounds import RATE
from game.music.clicking import ClickSound
from game.music.pitch import frequency_hz
from tests.audio.loudness import ear_energy_db
from tests.audio.spectrum import strongest_hz

HIGHEST_FRETTED = 64 + 24
"""E6: the first string at its twenty-fourth fret (trade)."""


def waves(sound: ClickSound) -> dict[ClickKind, np.ndarray]:
    return {kind: wave.astype(np.float64) for kind, wave in click_sounds(RATE, sound).items()}


@pytest.mark.parametrize("click", BRIGHT_CLICKS, ids=lambda click: click.name)
def test_each_is_above_the_guitar_and_over_within_ten_milliseconds(click: BrightClick):
    sound = waves(ClickSound.BRIGHT)[ClickKind(click.name.removeprefix("bright_"))]
    assert len(sound) / RATE < 0.010
    assert strongest_hz(sound, RATE) > 1.4 * frequency_hz(HIGHEST_FRETTED)
    power = np.abs(np.fft.rfft(sound, 1 << 15)) ** 2
    below = np.fft.rfftfreq(1 << 15, 1 / RATE) < frequency_hz(HIGHEST_FRETTED)
    assert power[below].sum() < 0.001 * power.sum(), "where a string could be heard there is next to nothing"


@pytest.mark.parametrize("click", BRIGHT_CLICKS, ids=lambda click: click.name)
def test_each_begins_at_once_and_has_a_step_at_neither_end(click: BrightClick):
    sound = waves(ClickSound.BRIGHT)[ClickKind(click.name.removeprefix("bright_"))]
    loud = np.flatnonzero(np.abs(sound) > 0.1 * np.abs(sound).max())
    assert sound[0] == 0
    assert loud[0] / RATE < 0.0015, "a tenth of its peak within a millisecond and a half"
    assert np.abs(sound).argmax() / RATE < 0.006
    assert np.abs(np.diff(sound[:6])).max() < 0.05 * 32767
    assert np.abs(sound[-5:]).max() < 0.001 * 32767


@pytest.mark.parametrize("kind", ClickKind)
def test_each_is_no_louder_to_the_ear_and_no_higher_in_its_peak_than_the_wooden_one(kind: ClickKind):
    """IEC 61672-1: curve A."""
    bright, wooden = waves(ClickSound.BRIGHT)[kind], waves(ClickSound.WOODEN)[kind]
    assert np.abs(bright).max() <= np.abs(wooden).max()
    assert -4 < ear_energy_db(bright, RATE) - ear_energy_db(wooden, RATE) <= 0


def test_an_accent_is_told_by_height_and_loudness_and_a_subdivision_by_its_softness():
    sounds = waves(ClickSound.BRIGHT)
    accent, beat, part = (sounds[kind] for kind in (ClickKind.ACCENT, ClickKind.BEAT, ClickKind.SUBDIVISION))
    assert strongest_hz(accent, RATE) > 1.05 * strongest_hz(beat, RATE)
    assert ear_energy_db(accent, RATE) > ear_energy_db(beat, RATE) + 2
    assert ear_energy_db(beat, RATE) > ear_energy_db(part, RATE) + 6
