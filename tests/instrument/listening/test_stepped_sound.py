"""Sound in steps of 5.8 ms, however it comes."""

import numpy as np
import pytest

from game.instrument.listening.stepped_sound import SteppedSound, rms
from tests.instrument.listening.plucked import RATE, tone
from tests.sampling import sample

RATES = [16_000, 22_050, 44_100, 48_000, 96_000, 192_000]


def fed(samples, rate=RATE, cut=256):
    """The sound, and how many steps it came in."""
    sound = SteppedSound(rate)
    return sound, sum(1 for first in range(0, len(samples), cut) for _ in sound.steps(samples[first : first + cut]))


@pytest.mark.parametrize("rate", sample(RATES, by_default=3))
def test_at_every_rate_steps_last_about_as_long_and_times_are_those_of_the_stream(rate):
    sound, steps = fed(tone(69, 1.0, rate=rate), rate)
    assert 0.005 < sound.step / sound.rate < 0.0066
    assert steps == int(sound.rate / sound.step)
    assert sound.now_s == 1.0
    assert sound.history.end == steps * sound.step
    assert sound.heard_at_s(sound.history.end) == pytest.approx(1.0, abs=0.0066)
    assert sound.heard_at_s(0) == 0


@pytest.mark.parametrize("cut", [1, 97, 4096])
def test_how_it_is_cut_makes_no_difference(cut):
    samples = tone(57, 0.2)
    whole, cut_up = fed(samples, cut=len(samples))[0], fed(samples, cut=cut)[0]
    assert np.array_equal(whole.history.last(5000), cut_up.history.last(5000))


def test_what_lies_below_the_strings_is_taken_out_and_a_string_is_not():
    """A rumble of 20 Hz and the A of 440 Hz, of the same strength. A Butterworth of second order over 68 Hz leaves
    (20/68)^2 of the first, 21 dB less (Butterworth 1930, by its formula).
    """
    at_s = np.arange(RATE) / RATE
    rumble, string = (fed(np.sin(2 * np.pi * hertz * at_s))[0].history.last(RATE // 4) for hertz in (20, 440))
    assert rms(string) == pytest.approx(np.sqrt(0.5), rel=0.02)
    assert rms(rumble) == pytest.approx(np.sqrt(0.5) * (20 / 68) ** 2, rel=0.1)


def test_what_is_no_number_is_silence_and_what_is_endless_is_not_louder_than_sixteen():
    sound, _ = fed(np.array([np.nan] * 600, dtype=np.float32))
    assert not sound.history.last(500).any()
    sound, _ = fed(np.array([1e30, -np.inf] * 300, dtype=np.float32))
    assert 0 < abs(sound.history.last(500)).max() < 40


def test_silence_behind_the_end_takes_no_time_of_the_stream():
    sound, _ = fed(tone(57, 0.1))
    before = sound.history.end
    sound.step_of_silence()
    assert sound.history.end == before + sound.step
    assert sound.now_s == pytest.approx(0.1)


def test_the_root_mean_square_of_nothing_is_nothing():
    assert rms(np.zeros(0)) == 0
    assert rms(np.array([3.0, -4.0])) == pytest.approx(np.sqrt(12.5))
