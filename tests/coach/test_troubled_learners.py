"""Bad takes are takes: few learners with fixed seeds; the bench prints the tables of many."""

from itertools import pairwise
from random import Random
from statistics import mean, median

import pytest

from tests.bench.coach_troubles import (
    DAILY,
    SITTING,
    after_a_fall,
    after_spoilt,
    share_under,
    slow_weeks,
    to_come_near,
)
from tests.bench.curves import CURVES
from tests.sampling import how_many, sample


@pytest.mark.parametrize("notes", sample([16, 32, 64], by_default=1))
def test_after_one_half_wrong_take_a_settled_learner_is_back_within_two(notes):
    asked, believed = after_spoilt(notes, how_many(30, by_default=12))
    assert median(asked) <= 2
    assert mean(believed) < 0.5, "the estimate hardly leaves its place"


def test_a_true_fall_is_followed_within_four_takes():
    asked, _ = after_a_fall(32, how_many(40, by_default=10))
    assert median(asked) <= 4


@pytest.mark.parametrize("numbers", sample([SITTING, DAILY], by_default=1))
def test_bursts_of_inattention_do_not_keep_the_tempo_down(numbers):
    assert share_under(32, 15, (0.5, 0.5), numbers) <= 0.20


def test_in_short_passages_it_comes_near_long_before_a_shrinking_staircase_whatever_form_accuracy_has():
    for form in CURVES.values():
        estimate, asked, stairs = to_come_near(form, 8, how_many(30, by_default=6))
        assert max(estimate, asked) < stairs


def test_in_longer_ones_its_estimate_does_in_the_mean_of_all_forms():
    """The tempo asked for takes about as long as the staircase: the bench tells of each form."""
    rows = [to_come_near(form, 32, how_many(40, by_default=8)) for form in CURVES.values()]
    assert mean(estimate for estimate, *_ in rows) < mean(stairs for *_, stairs in rows)


@pytest.mark.parametrize("limit", sample([30, 40], by_default=1))
@pytest.mark.parametrize("finds", [0.7, 0.9])
def test_whoever_can_hold_a_slow_click_is_given_it_and_not_sent_back_and_forth(limit, finds):
    ended, sent, held = slow_weeks(limit, finds, 5)
    assert ended == 5
    assert sent <= 6
    assert held >= 0.8


@pytest.mark.parametrize("notes", sample([8, 16], by_default=1))
def test_a_few_bad_takes_of_few_notes_do_not_cost_the_slowest_click_whose_limit_it_is(notes):
    """Where every third belief of a limit of 30 took the click away, a third of them had lost it within two weeks."""
    ended, _, _ = slow_weeks(30, 0.9, 10, notes=notes)
    assert ended == 10


def test_whoever_is_slower_than_any_click_is_at_last_left_at_their_own_pace():
    """They are sent to the click twice, four ways each, and no more."""
    _, sent, _ = slow_weeks(24, 0.7, 3, days=30)
    assert sent <= 8


@pytest.mark.parametrize("form", CURVES.values(), ids=CURVES)
def test_each_form_is_nine_in_ten_at_the_steady_tempo_and_falls_with_tempo(form):
    for seed in range(20):
        curve = form(Random(seed))
        assert curve(0.0) == pytest.approx(0.9, abs=0.002)
        shares = [curve(x / 20) for x in range(-20, 21)]
        assert all(slower >= faster for slower, faster in pairwise(shares))
