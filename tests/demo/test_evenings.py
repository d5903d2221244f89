"""Evenings as people have them."""

from random import Random
from statistics import fmean

import pytest

from game.demo.demonstration import LEARNER
from game.demo.evenings import LONGEST_MIN, SHORTEST_MIN, as_on, as_rested, at_first_sight, evening_of
from game.demo.learner import answers, practised


@pytest.fixture
def weeks():
    """Many learners' first three weeks."""
    return [[evening_of(day, Random(f"{seed} {day}")) for day in range(1, 22)] for seed in range(40)]


def test_an_evening_lasts_fifteen_to_twenty_five_minutes_or_is_left_out_but_never_the_first_two(weeks):
    for evenings in weeks:
        assert all(evening.minutes == 0 or SHORTEST_MIN <= evening.minutes <= LONGEST_MIN for evening in evenings)
        assert all(evening.minutes for evening in evenings[:2])
    left_out = fmean(evening.minutes == 0 for evenings in weeks for evening in evenings)
    assert 0.05 < left_out < 0.25


def test_at_first_sight_sixty_to_ninety_of_a_hundred_notes_come_right_and_more_as_weeks_go_by(weeks):
    shares = [[evening.right_at_sight for evening in evenings] for evenings in weeks]
    assert all(0.6 <= share <= 0.9 for row in shares for share in row)
    assert fmean(row[20] for row in shares) > fmean(row[0] for row in shares) + 0.1


def test_one_evening_in_five_is_bad_and_then_more_goes_wrong(weeks):
    bad = [evening for evenings in weeks for evening in evenings if evening.bad]
    assert 0.1 < len(bad) / (40 * 21) < 0.3
    worse = as_on(LEARNER, bad[0])
    assert (worse.free_wrong, worse.find_s) > (LEARNER.free_wrong, LEARNER.find_s)
    assert worse.steady_now_bpm < LEARNER.steady_now_bpm


def test_what_goes_wrong_at_first_sight_is_gone_afterwards_and_what_was_learned_stays(weeks):
    sight = at_first_sight(LEARNER, weeks[0][0])
    given = [answer.right for seed in range(60) for answer in answers(sight, 20, None, Random(seed))]
    assert fmean(given) == pytest.approx(weeks[0][0].right_at_sight, abs=0.04)
    later = as_rested(LEARNER, practised(sight))
    assert later.free_wrong == LEARNER.free_wrong
    assert later.learned > LEARNER.learned
