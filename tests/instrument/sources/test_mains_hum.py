"""Hum of the mains is told from the notes it lies under."""

import numpy as np
import pytest

from game.instrument.sources.mains_hum import MainsHum
from tests.instrument.sources.sound_files import played

RATE = 16_000
LINE = np.tile(played((43, 47, 50, 55, 59), rate=RATE), 4)
AT_S = np.arange(len(LINE)) / RATE


def level(sound, block=800):
    hum = MainsHum(RATE)
    for first in range(0, len(sound), block):
        hum.take_in(sound[first : first + block].astype(np.float64))
    return hum.level_db()


@pytest.mark.parametrize("mains_hz", [50, 60])
def test_hum_under_playing_is_measured(mains_hz):
    """Amplitudes of 0.02 and 0.01: powers of 0.0002 and 0.00005, together -36 dB."""
    hum = 0.02 * np.sin(2 * np.pi * mains_hz * AT_S) + 0.01 * np.sin(2 * np.pi * 3 * mains_hz * AT_S)
    assert level(LINE + hum) == pytest.approx(-36, abs=2)


def test_playing_without_hum_has_hardly_any():
    """Although a low G, of 98 Hz, lies beside the second harmonic of 50."""
    assert level(LINE) < -45


def test_less_than_a_second_and_silence_have_none():
    assert level(LINE[: RATE - 1]) == -100
    assert level(0 * LINE) == -100
