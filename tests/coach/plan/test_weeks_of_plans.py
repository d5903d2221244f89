"""Weeks of practice by the plan: what was begun is finished, and none of it is left waiting."""

import pytest

from game.coach.coach import advance
from game.coach.marks import Mark
from tests.bench.planned_weeks import PASSAGES_A_TUNE, PlannedPractice, practised
from tests.sampling import how_many, sample


@pytest.mark.parametrize("minutes", sample([5, 20, 45], by_default=1))
def test_over_weeks_what_was_begun_is_finished_before_more_is_begun(minutes):
    for seed in range(how_many(3, by_default=1)):
        practice = practised(seed, minutes, range(1, 41))
        assert practice.marks(Mark.SIGNED_OFF)
        begun = {f"{tune} {at}" for tune in practice.begun[:-1] for at in range(PASSAGES_A_TUNE)}
        assert begun <= practice.marks(Mark.FOUND) | practice.marks(Mark.IN_TIME), "all but the last tune is found"


@pytest.mark.parametrize("minutes", sample([5, 20], by_default=1))
def test_on_every_day_some_passage_is_played_and_a_half_sign_off_is_not_left_waiting(minutes):
    for seed in range(how_many(3, by_default=1)):
        practice = practised(seed, minutes, range(1, 31))
        days = {day for day, *_ in practice.played}
        assert days == set(range(1, 31))
        for name, record in practice.state.records.items():
            waiting = record.sign_offs and Mark.SIGNED_OFF not in record.marks
            assert not waiting or record.sign_offs[-1].day >= 30 - 3, name


def test_after_three_weeks_away_the_first_passage_is_the_one_played_last():
    for seed in range(how_many(5, by_default=2)):
        practice = practised(seed, 20, (*range(1, 6), 27))
        before = [name for day, name, _ in practice.played if day <= 5]
        after = next(name for day, name, _ in practice.played if day == 27)
        open_ones = [name for name in dict.fromkeys(reversed(before)) if name not in signed_off_by(practice, 5)]
        assert after == open_ones[0]


def signed_off_by(practice, day):
    again = PlannedPractice(0, 20)
    state = again.state
    for when, _, result in practice.played:
        if when <= day:
            state, _ = advance(state, result)
    return {name for name, record in state.records.items() if Mark.SIGNED_OFF in record.marks}
