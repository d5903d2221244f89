import numpy as np
import pytest

from game.instrument.listening.difference_function import (
    NO_PITCH,
    Estimate,
    estimate_near,
    estimate_of,
    peaks_of,
    periodic_power,
    square_difference,
)
from game.instrument.listening.semitones import period_of
from tests.instrument.listening.plucked import RATE, plucked, tone


def test_it_is_mcleods_formula():
    """2 r(lag) / m(lag), each sum written out (McLeod & Wyvill 2005)."""
    sound = np.random.default_rng(1).standard_normal(50)
    expected = [
        2 * (sound[: 50 - lag] @ sound[lag:]) / (sound[: 50 - lag] @ sound[: 50 - lag] + sound[lag:] @ sound[lag:])
        for lag in range(20)
    ]
    np.testing.assert_allclose(square_difference(sound, 20), expected, atol=1e-9)


@pytest.mark.parametrize("pitch", [40, 45, 52, 64, 76, 84, 88])
def test_a_string_has_its_pitch_within_a_tenth_of_a_semitone(pitch):
    estimate = estimate_of(plucked(pitch, 0.1)[400:2000], RATE)
    assert estimate.pitch == pytest.approx(pitch, abs=0.1)
    assert estimate.clarity > 0.9


def test_noise_is_not_clear():
    assert estimate_of(np.random.default_rng(1).standard_normal(1500), RATE).clarity < 0.7


@pytest.mark.parametrize("window", [np.zeros(0), np.zeros(3), np.zeros(1000), np.ones(1000)])
def test_where_nothing_sounds_or_next_to_nothing_is_known_there_is_no_pitch(window):
    assert peaks_of(window, RATE) == ()
    assert estimate_of(window, RATE) == NO_PITCH


def test_the_power_of_what_is_periodic_is_that_of_a_tone_and_not_of_noise_beside_it():
    sound = tone(69, 0.1)
    noise = 0.2 * np.random.default_rng(1).standard_normal(len(sound))
    period = period_of(69, RATE)
    assert periodic_power(sound, period) == pytest.approx(0.02, rel=0.05)
    assert periodic_power(sound + noise, period) == pytest.approx(0.02, rel=0.2)
    assert periodic_power(sound[:120], period) == 0


def test_a_fading_string_keeps_its_pitch_while_its_own_period_is_nearly_as_clear_as_its_octave():
    peaks = (Estimate(57, 0.97), Estimate(45, 0.95), Estimate(38.0, 0.94))
    assert estimate_near(peaks, 45.2).pitch == 45
    assert estimate_near(peaks, 50).pitch == 57
    assert estimate_near((), 50) == NO_PITCH
