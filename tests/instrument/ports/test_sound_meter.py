"""How loud an input is, what of it hums, and what was cut off or lost."""

import numpy as np
import pytest

from game.instrument.ports.sound_input import SILENCE_DB
from game.instrument.ports.sound_meter import SoundMeter


def sine(hz, amplitude, rate, seconds=1.2):
    return (amplitude * np.sin(2 * np.pi * hz * np.arange(round(seconds * rate)) / rate)).astype(np.float32)


def level_of(samples, rate, block=441):
    meter = SoundMeter(rate)
    for begin in range(0, len(samples), block):
        meter.feed(samples[begin : begin + block])
    return meter.level()


@pytest.mark.parametrize("rate", [16_000, 44_100, 192_000])
def test_a_sine_at_full_scale_has_minus_three_decibels(rate):
    """By definition: the mean square of a sine of amplitude 1 is a half."""
    level = level_of(sine(440, 0.9994, rate), rate)
    assert level.rms_db == pytest.approx(-3.01, abs=0.1)
    assert level.peak_db == pytest.approx(0, abs=0.1)
    assert level.clipped == 0


def test_silence_is_not_less_than_nothing():
    level = level_of(np.zeros(44_100, np.float32), 44_100)
    assert (level.rms_db, level.peak_db, level.hum_db) == (SILENCE_DB,) * 3


@pytest.mark.parametrize("hz", [50, 60])
def test_hum_of_either_mains_is_told_from_what_is_played(hz):
    played = sine(196, 0.3, 44_100)
    quiet, humming = level_of(played, 44_100), level_of(played + sine(hz, 0.02, 44_100), 44_100)
    assert quiet.hum_db < -70
    assert humming.hum_db == pytest.approx(20 * np.log10(0.02) - 3.01, abs=0.5)


def test_what_is_cut_off_and_what_is_lost_is_counted():
    meter = SoundMeter(44_100)
    meter.feed(np.clip(sine(100, 2.0, 44_100, 0.1), -1, 1))
    meter.feed(np.zeros(100, np.float32), lost=True)
    meter.feed(np.zeros(100, np.float32), lost=True)
    level = meter.level()
    assert level.clipped > 1000
    assert level.lost == 2


def test_what_is_fed_at_once_or_in_pieces_is_the_same():
    played = sine(110, 0.2, 48_000, 2.0)
    whole, pieces = level_of(played, 48_000, len(played)), level_of(played, 48_000, 7)
    assert whole.rms_db == pytest.approx(pieces.rms_db, abs=1e-3)
    assert whole.hum_db == pytest.approx(pieces.hum_db, abs=1e-3)
