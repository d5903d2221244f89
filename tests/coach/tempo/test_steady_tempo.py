"""The estimate of the steady tempo."""

from itertools import pairwise
from math import comb, log

import numpy as np
import pytest

from game.coach.numbers import NUMBERS
from game.coach.tempo.steady_tempo import (
    GRID,
    chance_at_least,
    chance_of_inattention,
    changed_belief,
    drifted_belief,
    prior,
    quantile,
    updated_belief,
    weights_of,
)

TAKES = ((60, 32, 32), (80, 31, 32), (104, 28, 32), (98, 30, 32), (101, 27, 32))


def after(takes, belief=None):
    belief = belief or prior(80, 0.35)
    for bpm, right, asked in takes:
        belief = updated_belief(belief, bpm=bpm, right=right, asked=asked)
    return belief


def test_the_prior_has_the_median_and_spread_it_was_given():
    belief = prior(100, 0.35)
    assert belief.bpm == pytest.approx(100, rel=0.002)
    assert belief.spread == pytest.approx(0.35, rel=0.01)


@pytest.mark.parametrize("bpm", [60, 90, 160])
def test_the_steady_tempo_is_where_the_target_share_comes_right(bpm):
    """Nine in ten right in a hundred takes at one tempo: whatever slope and lapses are, that is the tempo."""
    assert after([(bpm, 27, 30)] * 100).bpm == pytest.approx(bpm, rel=0.01)


def share_at(bpm, log_steady, *, slope, lapse):
    """The model: the chance that a note is right, the target share at the steady tempo and all but lapses far below."""
    hold = NUMBERS.target_share / (1 - lapse)
    return (1 - lapse) / (1 + (1 / hold - 1) * np.exp(slope * (log(bpm) - log_steady)))


def test_the_estimate_agrees_with_bayes_rule_on_a_grid_ten_times_as_fine():
    """Independent reckoning with numpy: dense grid, same prior, the chance of a take written out as the products that a
    beta-binomial is (Pólya's urn), and any number right equally likely where the mind was elsewhere.
    """
    x = np.linspace(log(15), log(500), 2000)
    weight = np.exp(-(((x - log(80)) / 0.35) ** 2) / 2)
    total = np.zeros_like(x)
    for slope in NUMBERS.slopes:
        for lapse in NUMBERS.lapses:
            likelihood = np.ones_like(x)
            for bpm, right, asked in TAKES:
                share = share_at(bpm, x, slope=slope, lapse=lapse)
                attentive = comb(asked, right) * np.ones_like(x)
                for drawn in range(asked):
                    so_far = drawn if drawn < right else drawn - right
                    of_it = share if drawn < right else 1 - share
                    rho = NUMBERS.overdispersion
                    attentive *= (of_it * (1 - rho) + so_far * rho) / (1 - rho + drawn * rho)
                likelihood *= (1 - NUMBERS.inattention) * attentive + NUMBERS.inattention / (asked + 1)
            total += weight * likelihood
    total /= total.sum()
    median = float(np.exp(x[np.searchsorted(np.cumsum(total), 0.5)]))
    mean = float((total * x).sum())
    belief = after(TAKES)
    assert belief.bpm == pytest.approx(median, rel=0.005)
    assert belief.spread == pytest.approx(float(np.sqrt((total * (x - mean) ** 2).sum())), rel=0.05)


def test_the_order_of_takes_does_not_matter_while_nothing_drifts():
    assert after(TAKES).bpm == pytest.approx(after(TAKES[::-1]).bpm, rel=1e-6)


def test_every_wrong_note_lowers_the_estimate():
    estimates = [after([(90, right, 32)]).bpm for right in range(33)]
    assert all(fewer < more for fewer, more in pairwise(estimates))


def test_a_take_in_which_nothing_was_asked_changes_nothing():
    belief = prior(80, 0.3)
    assert updated_belief(belief, bpm=80, right=0, asked=0) is belief


def test_drifting_adds_variances_and_leaves_the_middle_where_it_was():
    belief = drifted_belief(prior(100, 0.2), 0.15)
    assert belief.spread == pytest.approx((0.2**2 + 0.15**2) ** 0.5, rel=0.01)
    assert belief.bpm == pytest.approx(100, rel=0.002)


def test_one_bad_take_of_a_settled_player_is_told_as_inattention_and_a_second_as_a_change():
    settled = prior(100, 0.04)
    once = changed_belief(after([(100, 16, 32)], settled))
    assert chance_of_inattention(settled, bpm=100, right=16, asked=32) > 0.5
    assert once.bpm == pytest.approx(100, rel=0.03)
    assert changed_belief(after([(100, 16, 32)], once)).bpm < 0.96 * once.bpm


def test_a_take_as_it_was_to_be_expected_is_no_inattention():
    assert chance_of_inattention(prior(100, 0.04), bpm=100, right=28, asked=32) < 0.05
    assert chance_of_inattention(prior(100, 0.04), bpm=100, right=0, asked=0) == 1


def test_a_change_leaves_the_middle_where_it_was_and_the_ends_less_sure():
    settled = prior(100, 0.04)
    changed = changed_belief(settled)
    assert changed.bpm == pytest.approx(100, rel=0.002)
    assert chance_at_least(changed, 120) > chance_at_least(settled, 120) + 0.003


def test_the_weights_always_sum_to_one():
    for belief in (prior(100, 0.2), prior(5, 0.1), drifted_belief(prior(400, 0.3), 0.15), after(TAKES)):
        assert sum(weights_of(belief)) == pytest.approx(1)
        assert len(weights_of(belief)) == len(GRID)


def test_a_thousand_wrong_notes_leave_a_belief_that_can_still_recover():
    crushed = after([(100, 0, 1000)] * 3, prior(100, 0.1))
    assert crushed.bpm < 80
    assert after([(150, 32, 32)] * 3, crushed).bpm > 120


def test_the_chance_of_a_tempo_agrees_with_the_quantiles():
    belief = after(TAKES)
    for chance in (0.1, 0.5, 0.9):
        assert chance_at_least(belief, quantile(belief, chance)) == pytest.approx(1 - chance, abs=1e-9)


def test_lapses_are_not_taken_for_a_lower_steady_tempo():
    """Prins 2012: left out of the model, lapses bias the threshold. One slip in a slow take hardly counts."""
    clean, slipped = after([(40, 32, 32), (100, 30, 32)]), after([(40, 31, 32), (100, 30, 32)])
    assert slipped.bpm > clean.bpm * 0.97
