"""The delay is found from clicks that are heard back, through what rooms, loudspeakers and players do to them."""

import numpy as np
import pytest

from game.audio.pluck import plucked
from game.instrument.listening.click_delay import (
    CLICKS,
    WIDEST_SPREAD_S,
    DelayRefusal,
    click_onsets_s,
    find_delay,
    measuring_click,
)
from tests.sampling import sample

RATE = 44100
LEAD_S = 0.4
TAIL_S = 0.8
DUE_S = tuple(LEAD_S + onset_s for onset_s in click_onsets_s())


def recorded(delay_s, *, gain=0.3, offsets_s=(), missed=(), rate=RATE, heard_as=None):
    """The clicks as they come back, to the fraction of a sample; `offsets_s` of each beside the delay."""
    sound = np.zeros(round((DUE_S[-1] + TAIL_S) * rate))
    click = measuring_click(rate) if heard_as is None else heard_as
    for number, due_s in enumerate(DUE_S):
        if number in missed:
            continue
        at = (due_s + delay_s + (offsets_s[number] if len(offsets_s) else 0.0)) * rate
        whole, part = int(np.floor(at)), at - np.floor(at)
        late = np.interp(np.arange(len(click) + 1) - part, np.arange(len(click)), click, left=0, right=0)
        late = late[: max(0, len(sound) - whole)]
        sound[whole : whole + len(late)] += gain * late
    return sound


def noise(rms_db, seed=1, rate=RATE):
    rng = np.random.default_rng(seed)
    return 10 ** (rms_db / 20) * rng.standard_normal(round((DUE_S[-1] + TAIL_S) * rate))


def guitar(peak_db, seed=2):
    """Strings that are plucked all the while, each with a pick that is heard."""
    rng = np.random.default_rng(seed)
    sound = np.zeros(round((DUE_S[-1] + TAIL_S) * RATE))
    at = 0
    while at < len(sound):
        string = plucked(int(rng.integers(40, 76)), RATE)[: len(sound) - at] / 16384
        sound[at : at + len(string)] += 0.5 * string
        pick = rng.standard_normal(60) * np.hanning(60) * 0.3
        sound[at : at + 60] += pick[: len(sound) - at]
        at += round(rng.uniform(0.15, 0.5) * RATE)
    return 10 ** (peak_db / 20) * sound / np.abs(sound).max()


def found(sound, rate=RATE):
    return find_delay(sound.astype(np.float32), rate, DUE_S)


@pytest.mark.parametrize("delay_s", sample([-0.012, 0.0, 0.0117, 0.0873, 0.25, 0.5], by_default=3))
def test_a_delay_is_found_to_a_tenth_of_a_millisecond(delay_s):
    measured = found(recorded(delay_s) + noise(-60))
    assert measured.delay_s == pytest.approx(delay_s, abs=1e-4)
    assert (measured.found, measured.refused) == (CLICKS, None)


def test_it_is_found_between_samples_and_the_same_at_every_rate():
    for rate in (16000, 22050, 44100, 48000, 96000):
        measured = found(recorded(0.04321, rate=rate) + noise(-60, rate=rate), rate)
        assert measured.delay_s == pytest.approx(0.04321, abs=3e-5)


@pytest.mark.parametrize("seed", sample(range(40), by_default=1))
def test_soft_clicks_are_found_in_noise(seed):
    """At -30 dB against full scale, in noise that is as loud as they are at their highest."""
    measured = found(recorded(0.06, gain=10 ** (-30 / 20)) + noise(-38, seed))
    assert measured.delay_s == pytest.approx(0.06, abs=5e-4)


@pytest.mark.parametrize("seed", sample(range(40), by_default=1))
def test_a_guitar_that_is_played_meanwhile_does_not_hide_them(seed):
    measured = found(recorded(0.06, gain=10 ** (-30 / 20)) + guitar(-6, seed) + noise(-60))
    assert measured.delay_s == pytest.approx(0.06, abs=5e-4)


def test_a_turned_sign_changes_nothing():
    assert found(-recorded(0.03)).delay_s == pytest.approx(0.03, abs=1e-4)


def test_echoes_of_a_room_change_nothing_even_where_one_is_louder_than_the_sound_itself():
    rng = np.random.default_rng(3)
    room = rng.standard_normal(round(0.4 * RATE)) * np.exp(-np.arange(round(0.4 * RATE)) / (0.09 * RATE)) * 0.06
    room[0], room[round(0.0043 * RATE)] = 1.0, 1.4
    sound = recorded(0.045)
    size = 2 * len(sound)
    heard = np.fft.irfft(np.fft.rfft(sound, size) * np.fft.rfft(room, size), size)
    assert found(heard[: len(sound)]).delay_s == pytest.approx(0.045, abs=3e-4)


@pytest.mark.parametrize("band_hz", [(300, 3400), (2500, 5000), (200, 8000)])
def test_a_path_that_lets_only_a_band_through_delays_by_no_more_than_that_band_needs(band_hz):
    """A band has a rise time of about the inverse of its width."""
    click = measuring_click(RATE)
    spectrum = np.fft.rfft(click, 4096)
    at_hz = np.fft.rfftfreq(4096, 1 / RATE)
    inside = 1 / (1 + (band_hz[0] / np.maximum(at_hz, 1)) ** 8) / (1 + (at_hz / band_hz[1]) ** 8)
    coloured = np.fft.irfft(spectrum * inside, 4096)[: round(0.02 * RATE)]
    measured = found(recorded(0.05, heard_as=coloured) + noise(-60))
    assert measured.delay_s == pytest.approx(0.05, abs=1e-3)
    assert measured.found == CLICKS


def test_clicks_that_were_missed_are_left_out():
    measured = found(recorded(0.07, missed=(0, 3, 4, 11)) + noise(-60))
    assert measured.delay_s == pytest.approx(0.07, abs=1e-4)
    assert measured.found == CLICKS - 4


def test_fewer_than_half_of_them_are_not_enough():
    measured = found(recorded(0.07, missed=range(4, 12)) + noise(-60))
    assert (measured.delay_s, measured.refused) == (None, DelayRefusal.NOT_HEARD)


def test_a_delay_that_wavers_is_refused_with_how_much():
    offsets = 0.006 * np.array([0, 1, 0, 1, 1, 0, 0, 1, 0, 1, 1, 0])
    measured = found(recorded(0.05, offsets_s=offsets) + noise(-60))
    assert (measured.delay_s, measured.refused) == (None, DelayRefusal.UNSTEADY)
    assert measured.spread_s == pytest.approx(0.006, abs=5e-4)


def test_a_little_wavering_is_none():
    offsets = np.random.default_rng(4).uniform(-0.001, 0.001, CLICKS)
    measured = found(recorded(0.05, offsets_s=offsets) + noise(-60))
    assert measured.delay_s == pytest.approx(0.05, abs=5e-4)
    assert 0 < measured.spread_s < WIDEST_SPREAD_S


@pytest.mark.parametrize("seed", sample(range(40), by_default=2))
def test_nothing_is_found_where_no_click_is(seed):
    for sound in (noise(-30, seed), guitar(-3, seed), noise(-60, seed), np.zeros(RATE * 6)):
        assert found(sound).refused is DelayRefusal.NOT_HEARD


def test_even_clicks_of_something_else_are_not_taken_for_ours():
    sound, click = noise(-60), measuring_click(RATE)
    for at_s in np.arange(0.2, 4.0, 0.3):
        at = round(at_s * RATE)
        sound[at : at + len(click)] += 0.3 * click
    assert found(sound).delay_s is None


def test_one_bang_decides_nothing():
    sound = recorded(0.05, gain=0.02) + noise(-60)
    sound[RATE * 2 : RATE * 2 + 3000] += np.random.default_rng(5).uniform(-1, 1, 3000)
    assert found(sound).delay_s == pytest.approx(0.05, abs=1e-3)


def test_a_clipped_recording_still_tells():
    assert found(np.clip(recorded(0.05, gain=8.0), -1, 1)).delay_s == pytest.approx(0.05, abs=3e-4)


def test_samples_that_are_no_numbers_hurt_nothing():
    sound = recorded(0.05)
    sound[1000:1010], sound[5000] = np.nan, np.inf
    assert found(sound).delay_s == pytest.approx(0.05, abs=1e-4)


def test_a_recording_that_ends_before_the_last_click_is_refused():
    assert found(recorded(0.05)[:RATE]).refused is DelayRefusal.CUT_SHORT
    assert found(np.zeros(0)).refused is DelayRefusal.CUT_SHORT


def test_one_click_and_no_rate_are_mistakes_of_the_caller():
    with pytest.raises(ValueError, match="two clicks"):
        find_delay(np.zeros(10, np.float32), RATE, [0.1])
    with pytest.raises(ValueError, match="positive rate"):
        find_delay(np.zeros(10, np.float32), 0, [0.1, 0.2])


def test_no_two_spacings_are_alike_so_that_only_the_true_delay_fits():
    """Of all differences between clicks hardly two are within the width of a sound."""
    onsets = np.array(click_onsets_s())
    assert len(onsets) == CLICKS
    for shift_s in np.arange(0.02, 0.62, 0.001):
        apart = np.abs(onsets[:, None] + shift_s - onsets[None, :])
        assert (apart < 0.006).sum() <= 4
