"""The simulated player who learns."""

from dataclasses import replace
from random import Random
from statistics import mean, median, stdev

import pytest

from game.demo.learner import AccuracyCurve, Learner, accuracy, answers, on_day, practised

LEARNER = Learner(steady_bpm=100, slope=9, lapse=0.02, bias_ms=-25, spread_ms=20, find_s=0.7)


@pytest.mark.parametrize("curve", list(AccuracyCurve))
def test_at_the_steady_tempo_the_share_is_the_target_with_one_slope_for_all_curves(curve):
    learner = replace(LEARNER, curve=curve)
    assert accuracy(learner, 100) == pytest.approx(0.90)
    hold = 0.90 / 0.98
    slope = (accuracy(learner, 100 * 1.0005) - accuracy(learner, 100 / 1.0005)) / (2 * 0.0005)
    assert slope == pytest.approx(-9 * 0.98 * hold * (1 - hold), rel=0.01)


@pytest.mark.parametrize("curve", list(AccuracyCurve))
def test_accuracy_falls_with_tempo_from_one_less_the_lapses_to_nothing(curve):
    learner = replace(LEARNER, curve=curve)
    shares = [accuracy(learner, bpm) for bpm in (5, 50, 80, 100, 130, 200, 900)]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] == pytest.approx(0.98, abs=1e-3)
    assert shares[-1] < 0.01


def test_practice_moves_the_steady_tempo_exponentially_towards_the_ceiling():
    """Heathcote et al. 2000: each take closes the same part of what is left."""
    learner = replace(LEARNER, ceiling_bpm=150, learning=0.1)
    for _ in range(10):
        learner = practised(learner)
    assert learner.steady_now_bpm == pytest.approx(100 * 1.5 ** (1 - 0.9**10))


def test_takes_tire_and_a_night_rests():
    tired = practised(practised(replace(LEARNER, fatigue=0.02)))
    assert tired.steady_now_bpm == pytest.approx(100 * 2.718281828**-0.04)
    assert on_day(tired, 1).steady_now_bpm == 100


def test_days_off_undo_part_of_what_was_learned_and_the_next_day_none():
    learned = replace(LEARNER, ceiling_bpm=150, learned=0.5, forgetting=0.1, day=3)
    assert on_day(learned, 4).learned == 0.5
    assert on_day(learned, 7).learned == pytest.approx(0.5 * 0.9**3)


def test_takes_come_out_as_the_curve_bias_and_spread_say():
    rng = Random(5)
    played = [answer for _ in range(200) for answer in answers(LEARNER, 32, 100, rng)]
    offsets = [answer.offset_ms for answer in played]
    assert mean(answer.right for answer in played) == pytest.approx(0.90, abs=0.012)
    assert mean(offsets) == pytest.approx(-25, abs=1)
    assert stdev(offsets) == pytest.approx(20, abs=1)


def test_without_a_clock_notes_take_their_time_to_be_found():
    played = answers(LEARNER, 2000, None, Random(5))
    assert median(answer.find_s for answer in played) == pytest.approx(0.7, rel=0.05)
    assert {answer.offset_ms for answer in played} == {None}
    assert mean(answer.right for answer in played) == pytest.approx(0.98, abs=0.01)


def test_the_same_seed_gives_the_same_take():
    assert answers(LEARNER, 16, 90, Random(7)) == answers(LEARNER, 16, 90, Random(7))
