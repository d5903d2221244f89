"""The tone that sounds is told within a cent or two, on every string and at every rate."""

import numpy as np
import pytest

from game.instrument.ports.sound_tone import ToneFinder

OPEN_STRINGS = (40, 45, 50, 55, 59, 64)


def string(pitch, rate, seconds=0.5):
    """Partials that fade, as a plucked string has them, the fundamental weaker than the next two."""
    hz, times_s = 440 * 2 ** ((pitch - 69) / 12), np.arange(round(seconds * rate)) / rate
    weights = (0.3, 1.0, 0.7, 0.4, 0.3, 0.2)
    sound = sum(
        weight * np.exp(-2 * n * times_s) * np.sin(2 * np.pi * n * hz * times_s + n)
        for n, weight in enumerate(weights, 1)
    )
    return (0.1 * sound).astype(np.float32)


def tone_of(samples, rate, floor_db=-58.0):
    finder = ToneFinder(rate, floor_db)
    for begin in range(0, len(samples), 256):
        finder.feed(samples[begin : begin + 256])
    return finder.tone()


@pytest.mark.parametrize("rate", [16_000, 44_100, 48_000, 96_000, 192_000])
@pytest.mark.parametrize("pitch", OPEN_STRINGS)
def test_each_open_string_is_told_within_two_cents(pitch, rate):
    tone = tone_of(string(pitch + 0.13, rate), rate)
    assert tone.pitch == pytest.approx(pitch + 0.13, abs=0.02)
    assert tone.clarity > 0.9


@pytest.mark.parametrize("pitch", [23, 28, 33, 35, 86])
def test_so_are_the_lowest_and_the_highest_that_anybody_tunes(pitch):
    assert tone_of(string(pitch, 44_100), 44_100).pitch == pytest.approx(pitch, abs=0.05)


def test_silence_noise_and_what_is_below_the_floor_have_no_tone():
    noise = 0.1 * np.random.default_rng(1).standard_normal(44_100).astype(np.float32)
    assert tone_of(np.zeros(44_100, np.float32), 44_100) is None
    assert tone_of(noise, 44_100) is None
    assert tone_of(string(45, 44_100) * 1e-3, 44_100) is None
    assert tone_of(string(45, 44_100) * 1e-3, 44_100, floor_db=-110) is not None
