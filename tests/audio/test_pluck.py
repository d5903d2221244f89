"""The plucked string."""

import numpy as np
import numpy.typing as npt
import pytest

from game.audio.pluck import PEAK, PluckedStrings, pen_touch, plucked
from game.errors import AudioError
from tests.refusing import refusal

RATE = 44100


def measured_hz(wave: npt.NDArray[np.int16], near_hz: float, rate: int) -> float:
    """The first partial: highest bin near the pitch, a parabola through it and its neighbours."""
    samples = wave[rate // 20 :].astype(np.float64)
    size = 1 << 19
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(len(samples)), size))
    low, high = int(near_hz * 0.97 * size / rate), int(near_hz * 1.03 * size / rate) + 2
    top = low + int(spectrum[low:high].argmax())
    left, middle, right = np.log(spectrum[top - 1 : top + 2])
    return float((top + 0.5 * (left - right) / (left - 2 * middle + right)) * rate / size)


@pytest.mark.parametrize("rate", [44100, 48000])
@pytest.mark.parametrize("sounding", [40, 45, 50, 55, 59, 64, 69, 76, 84, 88])
def test_every_pitch_is_within_four_tenths_of_a_cent(sounding: int, rate: int):
    """f = 440 * 2 ** ((n - 69) / 12) (ISO 16:1975)."""
    due_hz = 440 * 2 ** ((sounding - 69) / 12)
    cents = 1200 * np.log2(measured_hz(plucked(sounding, rate), due_hz, rate) / due_hz)
    assert abs(cents) < 0.4


def test_it_begins_sharply_dies_away_and_ends_in_silence():
    wave = plucked(45, RATE).astype(np.float64)
    loudness = [float(np.sqrt((wave[at : at + 4410] ** 2).mean())) for at in range(0, len(wave), 8820)]
    assert np.abs(wave).max() == pytest.approx(PEAK * 32767, abs=1)
    assert np.abs(wave).argmax() < 0.01 * RATE
    assert loudness == sorted(loudness, reverse=True)
    assert loudness[5] < loudness[0] / 4
    assert (wave[0], wave[-1]) == (0, 0)


def test_higher_partials_die_away_first():
    wave = plucked(40, RATE).astype(np.float64)

    def share_above_1000_hz(part: npt.NDArray[np.float64]) -> float:
        power = np.abs(np.fft.rfft(part * np.hanning(len(part)))) ** 2
        return float(power[int(1000 * len(part) / RATE) :].sum() / power.sum())

    assert share_above_1000_hz(wave[RATE : RATE + 8192]) < share_above_1000_hz(wave[:8192]) / 10


def test_plucked_at_a_fifth_of_the_string_the_fifth_partial_is_missing():
    """sin(n * pi / 5) is 0 at n = 5: an ideal plucked string (any acoustics handbook)."""
    wave = plucked(45, RATE).astype(np.float64)[2000:34768]
    spectrum = np.abs(np.fft.rfft(wave * np.hanning(len(wave))))

    def partial(number: int) -> float:
        at = round(110 * number * len(wave) / RATE)
        return float(spectrum[at - 3 : at + 4].max())

    assert partial(5) < partial(4) / 30
    assert partial(5) < partial(6) / 30


def test_a_string_is_rendered_once():
    strings = PluckedStrings(RATE)
    assert strings.wave(60) is strings.wave(60)


@pytest.mark.parametrize("sounding", [-1, 20, 109, 127])
def test_a_pitch_beyond_a_piano_is_refused(sounding: int):
    with refusal(AudioError, f"the pitch {sounding} cannot be sounded: play notes from 21 to 108"):
        plucked(sounding, RATE)


def test_a_pen_touches_the_paper_low_briefly_and_softly():
    touch = pen_touch(RATE).astype(np.float64)
    assert np.abs(touch).max() == pytest.approx(0.1 * 32767, abs=1)
    assert (touch[0], touch[-1]) == (0, 0)
    power = np.abs(np.fft.rfft(touch)) ** 2
    assert power[: int(300 * len(touch) / RATE)].sum() > 0.9 * power.sum()
    assert np.abs(touch[len(touch) // 2 :]).max() < 0.15 * np.abs(touch).max()
    assert np.array_equal(touch, pen_touch(RATE)), "the same every time"


def test_behind_a_capo_a_string_sounds_as_one_so_much_higher():
    strings, higher = PluckedStrings(RATE), PluckedStrings(RATE)
    strings.raised = 2
    assert np.array_equal(strings.wave(60), higher.wave(62))
    assert not strings.reaches(107)
    assert strings.reaches(106)
    strings.raised = 0
    assert np.array_equal(strings.wave(60), higher.wave(60))
