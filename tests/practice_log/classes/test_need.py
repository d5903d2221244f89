"""What a student needs of their teacher is the first of four things that holds."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import product
from random import Random

import pytest

from game.practice_log.classes.need import Need, PassageTake, is_overdue, is_stuck, need_of

TODAY = date(2026, 11, 30)
"""A Monday."""


FEW = (4, 4, 4, 4, 4, 4, 5, 5, 4, 5)


def on(days_ago):
    return TODAY - timedelta(days=days_ago)


def take(days_ago, share, *, stage="time", bpm=60.0):
    right = round(100 * share)
    return PassageTake(
        day=on(days_ago),
        stage=stage,
        tempo_bpm=bpm,
        notes=100,
        clean=right,
        in_time=right,
        is_clean=bpm is not None and right >= 90,
    )


def ten(shares, *, days=5, **how):
    """Ten takes, two on each day."""
    return [take(days - at * days // 10, share, **how) for at, share in enumerate(shares)]


@pytest.mark.parametrize("days_ago", range(10))
def test_absent_is_who_has_no_take_in_the_seven_days_that_end_today(days_ago):
    for overdue, stuck in product((True, False), repeat=2):
        need = need_of(on(days_ago), TODAY, overdue=overdue, stuck=stuck)
        assert (need is Need.ABSENT) == (days_ago >= 7)
    assert need_of(None, TODAY, overdue=True, stuck=True) is Need.ABSENT


def test_the_first_that_holds_is_told():
    assert need_of(TODAY, TODAY, overdue=True, stuck=True) is Need.OVERDUE
    assert need_of(TODAY, TODAY, overdue=False, stuck=True) is Need.STUCK
    assert need_of(TODAY, TODAY, overdue=False, stuck=False) is Need.FINE


def test_a_part_is_overdue_from_the_day_after_it_is_due_until_it_is_done():
    assert not is_overdue(TODAY, None, TODAY)
    assert is_overdue(on(1), None, TODAY)
    assert not is_overdue(on(3), on(1), TODAY)
    assert is_overdue(on(3), on(1), on(2))
    assert not is_overdue(None, None, TODAY)


def test_a_clean_take_five_percent_faster_than_any_before_is_a_gain_and_four_percent_is_none():
    takes = ten([0.95] * 10, bpm=63.0)
    assert not is_stuck(takes, [], 60.0)
    assert is_stuck(takes, [], 60.6)
    assert not is_stuck(takes, [], None)
    assert is_stuck(ten([0.85] * 10, bpm=63.0), [], 60.0)


def test_many_more_right_notes_are_a_gain_and_some_more_by_chance_are_none():
    """Five hundred notes in each half tell of 5 %, thirty do not."""
    assert not is_stuck(ten([0.7] * 5 + [0.76] * 5), [], 60.0)
    assert is_stuck(ten([0.7] * 5 + [0.72] * 5), [], 60.0)
    few = [replace(one, notes=6, clean=right, in_time=right) for one, right in zip(ten([0.7] * 10), FEW, strict=True)]
    assert is_stuck(few, [], 60.0)


def test_the_same_notes_at_a_slower_click_are_no_gain():
    assert is_stuck([*ten([0.6] * 5, days=3), *[take(0, 0.8, bpm=52.0)] * 5], [], 60.0)


def test_against_the_click_what_is_right_has_to_be_in_time():
    late = [replace(one, clean=95) for one in ten([0.5] * 10)]
    assert is_stuck(late, [], 60.0)


@pytest.mark.parametrize("seed", range(3))
def test_of_students_who_stand_still_nearly_all_are_found_and_of_those_who_climb_none(seed):
    rng = Random(seed)
    found = [is_stuck(list(_drawn(rng, [0.62] * 10, [60.0] * 10)), [], 60.0) for _ in range(200)]
    assert sum(found) >= 180
    climbing = [50.0, 50.0, 52.0, 52.0, 54.0, 54.0, 56.0, 58.0, 60.0, 62.0]
    assert sum(is_stuck(list(_drawn(rng, [0.96] * 10, climbing)), [], 50.0) for _ in range(200)) <= 2


def _drawn(rng, shares, tempi):
    """Takes of twenty notes each."""
    for at, (share, bpm) in enumerate(zip(shares, tempi, strict=True)):
        right = sum(rng.random() < share for _ in range(20))
        yield replace(take(9 - at, 0.0, bpm=bpm), notes=20, clean=right, in_time=right, is_clean=right >= 18)


def test_nine_takes_or_two_days_tell_nothing_yet():
    assert is_stuck(ten([0.7] * 10, days=3), [], 60.0)
    assert not is_stuck(ten([0.7] * 10, days=3)[1:], [], 60.0)
    assert not is_stuck(ten([0.7] * 10, days=2), [], 60.0)


def test_a_mark_among_the_last_ten_takes_is_a_way_on_and_an_older_one_is_not():
    takes = ten([0.7] * 10)
    assert not is_stuck(takes, [("in time", takes[0].day)], 60.0)
    assert is_stuck(takes, [("found", takes[0].day - timedelta(days=1))], 60.0)
    assert not is_stuck(takes, [("signed off", takes[0].day - timedelta(days=90))], 60.0)


def test_going_on_to_a_further_stage_is_a_gain_and_going_back_is_none():
    places = [take(5 - at, 0.8, stage="places", bpm=None) for at in range(5)]
    timed = [take(0, 0.6)] * 5
    assert not is_stuck([*places, *timed], [], 60.0)
    back = [take(0, 0.8, stage="places", bpm=None)] * 5
    assert is_stuck([take(5 - at, 0.6) for at in range(5)] + back, [], 60.0)


def test_who_gets_nothing_right_is_stuck():
    assert is_stuck(ten([0.0] * 10), [], 60.0)
