"""Open strings by the pitch that sounds, and how far each is out of tune."""

import pytest

from game.instrument.listening.string_tuning import (
    IN_TUNE_CENTS,
    StringPitch,
    hear_silence,
    hear_tone,
    new_tuning_check,
)
from game.neck.tuning import STANDARD, TUNINGS

STEP_S = 0.05


def held(check, pitch, *, at_s, lasts_s=0.6, clarity=0.97):
    """A pitch that sounds for so long; where it is a function, of the time since the pluck."""
    for number in range(round(lasts_s / STEP_S)):
        here = pitch(number * STEP_S) if callable(pitch) else pitch
        check = hear_tone(check, at_s=at_s + number * STEP_S, pitch=here, clarity=clarity)
    return check


def test_six_strings_in_any_order_are_told_apart_each_with_its_cents():
    check, at_s = new_tuning_check(STANDARD.open_strings), 1.0
    for string, cents in ((3, 4), (6, -13), (1, 0), (5, 22), (2, -3), (4, 6)):
        assert not check.all_heard
        check = held(check, STANDARD.open_strings[string - 1] + cents / 100, at_s=at_s)
        at_s += 2.0
    assert check.all_heard
    assert check.cents == pytest.approx((0, -3, 4, 6, 22, -13), abs=0.01)
    assert check.out_of_tune == (4, 5, 6)


@pytest.mark.parametrize("name", TUNINGS)
def test_every_tuning_is_heard_in_its_own_strings(name):
    check = new_tuning_check(TUNINGS[name].open_strings)
    for number, pitch in enumerate(TUNINGS[name].open_strings):
        check = held(check, float(pitch), at_s=2.0 * number)
    assert check.cents == (0.0,) * TUNINGS[name].strings


def test_five_cents_are_in_tune_and_six_are_not():
    assert StringPitch(1, IN_TUNE_CENTS).in_tune
    assert StringPitch(1, -IN_TUNE_CENTS).in_tune
    assert not StringPitch(1, 6.0).in_tune


def test_a_string_that_begins_sharp_is_taken_once_it_holds_still():
    check = held(
        new_tuning_check(STANDARD.open_strings),
        lambda since_s: 40.02 + 0.5 * 2 ** (-since_s / 0.08),
        at_s=1.0,
        lasts_s=1.2,
    )
    assert check.cents[5] == pytest.approx(2.0, abs=1.5)


def test_a_touch_or_a_slide_is_no_string():
    check = new_tuning_check(STANDARD.open_strings)
    assert held(check, 45.0, at_s=1.0, lasts_s=0.15).heard == 0
    assert held(check, lambda since_s: 45.0 + 2 * since_s, at_s=1.0).heard == 0


def test_what_dies_away_in_noise_does_not_spoil_what_was_heard_clearly():
    check = held(new_tuning_check(STANDARD.open_strings), 64.0, at_s=1.0, clarity=0.99)
    check = held(check, 64.09, at_s=1.6, clarity=0.94)
    assert check.cents[0] == 0
    check = held(new_tuning_check(STANDARD.open_strings), 64.09, at_s=1.0, clarity=0.94)
    assert check.cents[0] == pytest.approx(9.0)


def test_noise_without_a_pitch_is_no_string():
    assert held(new_tuning_check(STANDARD.open_strings), 45.0, at_s=1.0, clarity=0.5).heard == 0


def test_a_pitch_far_from_every_string_is_none_of_them():
    assert held(new_tuning_check(STANDARD.open_strings), 72.0, at_s=1.0).heard == 0


def test_a_string_that_is_tuned_is_heard_anew():
    check = held(new_tuning_check(STANDARD.open_strings), 58.7, at_s=1.0)
    assert check.cents[1] == pytest.approx(-30.0)
    check = held(check, lambda since_s: 58.7 + min(0.29, 0.2 * since_s), at_s=1.6, lasts_s=2.5)
    assert check.cents[1] == pytest.approx(-1.0)
    assert check.out_of_tune == ()


def test_what_sounds_now_goes_a_moment_after_it_has_died_away_and_what_was_heard_stays():
    check = held(new_tuning_check(STANDARD.open_strings), 50.0, at_s=1.0)
    assert check.now.string == 4
    assert hear_silence(check, at_s=1.6).now is not None
    check = hear_silence(check, at_s=2.0)
    assert (check.now, check.cents[3]) == (None, 0.0)
