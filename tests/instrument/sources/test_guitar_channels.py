"""Which channels of a recording hold the guitar, how loud it is, and where its wave was cut off."""

import numpy as np
import pytest

from game.instrument.sources.guitar_channels import ChannelSurvey
from tests.instrument.sources.sound_files import played

RATE = 44_100
GUITAR = played()
CHANCE = np.random.default_rng(7)
HUM = 0.6 * np.sin(2 * np.pi * 50 * np.arange(len(GUITAR)) / RATE)
NOISE = 0.001 * CHANCE.standard_normal(len(GUITAR))
CLICK = np.where(np.arange(len(GUITAR)) % 22_050 < 900, np.sin(2 * np.pi * 3_000 * np.arange(len(GUITAR)) / RATE), 0)


def surveyed(*channels, block=2_205):
    sound = np.stack(channels, axis=1).astype(np.float32)
    survey = ChannelSurvey(rate=RATE, channels=len(channels))
    for first in range(0, len(sound), block):
        survey.take_in(sound[first : first + block])
    return survey


@pytest.mark.parametrize(
    "other", [NOISE, HUM, HUM + NOISE, CLICK, np.full(len(GUITAR), 0.9), 0 * GUITAR, 0.5 * played((50, 52, 53, 55))]
)
def test_the_guitar_is_told_from_noise_hum_a_loud_click_an_offset_and_a_quieter_one(other):
    assert surveyed(other, GUITAR).guitar() == (1,)
    assert surveyed(GUITAR, other).guitar() == (0,)


def test_channels_that_hold_the_same_are_taken_together_and_one_turned_over_is_not():
    assert surveyed(GUITAR, 0.3 * GUITAR + NOISE).guitar() == (0, 1)
    assert surveyed(GUITAR, -GUITAR).guitar() == (0,)
    assert len(surveyed(GUITAR, np.roll(GUITAR, 60)).guitar()) == 1  # microphones half a metre apart


def test_of_silence_one_channel_is_taken():
    assert surveyed(0 * GUITAR, 0 * GUITAR).guitar() == (0,)
    assert surveyed(0 * GUITAR).level_db((0,)) <= -90


def test_loudness_is_that_of_the_playing_whatever_the_rests_and_one_thump():
    """A sine of amplitude 0.1 has a power of 0.005: -23 dB."""
    tone = 0.1 * np.sin(2 * np.pi * 220 * np.arange(len(GUITAR)) / RATE)
    rests = np.where(np.arange(len(tone)) < len(tone) // 2, tone, 0)
    rests[:100] = 1
    assert surveyed(rests).level_db((0,)) == pytest.approx(-23, abs=0.5)


def test_a_wave_that_is_cut_off_is_counted_by_its_places_and_a_peak_is_not():
    loud = np.clip(3 * np.sin(2 * np.pi * 100 * np.arange(RATE) / RATE), -1, 1)
    assert surveyed(loud, block=RATE).clipped((0,)) == 200
    peak = 0.5 * np.sin(2 * np.pi * 100 * np.arange(RATE) / RATE)
    peak[1_000:1_002] = 1
    assert surveyed(peak).clipped((0,)) == 0
    assert surveyed(1.5 * peak / np.abs(peak).max()).clipped((0,)) == 0  # above full scale in floating point: whole


def test_the_first_sample_that_is_no_number_is_found():
    broken = GUITAR.copy()
    broken[[4_410, 9_000]] = np.nan
    assert surveyed(GUITAR, broken).first_no_number_s == pytest.approx(0.1)
    assert surveyed(GUITAR).first_no_number_s is None
