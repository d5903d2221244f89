"""From a day's practice to one rating."""

from math import isclose, log

import pytest
from fsrs import Rating

from game.coach.notes.ratings import DayOfItem, note_rating, passage_rating
from game.coach.numbers import NUMBERS
from game.coach.stages import Stage
from tests.coach.coach_takes import take


def day(*times_s, wrong=0):
    read = DayOfItem()
    for time_s in times_s:
        read = read.plus(right=True, log_find_s=None if time_s is None else log(time_s))
    for _ in range(wrong):
        read = read.plus(right=False, log_find_s=None)
    return read


@pytest.mark.parametrize(
    ("read", "rating"),
    [
        (day(wrong=1), Rating.Again),
        (day(0.5, wrong=1), Rating.Again),
        (day(0.5, 0.5, wrong=1), Rating.Hard),
        (day(2.0, 2.0), Rating.Hard),
        (day(1.0), Rating.Good),
        (day(None, None), Rating.Good),
        (day(0.5, 0.6), Rating.Good),
        (day(0.5, 0.6, 0.5), Rating.Easy),
    ],
)
def test_what_a_day_of_a_note_is_worth(read, rating):
    assert note_rating(read) is rating


def test_a_days_usual_time_is_the_geometric_mean():
    assert isclose(day(0.5, 2.0).find_s, 1.0)
    assert day(None).find_s is None


def test_a_day_without_the_note_has_no_rating():
    with pytest.raises(ValueError, match="not read"):
        note_rating(DayOfItem())


TARGET = 96


@pytest.mark.parametrize(
    ("played", "rating"),
    [
        (take(0, bpm=TARGET), Rating.Good),
        (take(1, bpm=TARGET), Rating.Good),
        (take(0, bpm=TARGET * NUMBERS.easy_over_target), Rating.Easy),
        (take(2, bpm=TARGET), Rating.Hard),
        (take(0, bpm=TARGET, stops=1), Rating.Hard),
        (take(0, bpm=60), Rating.Hard),
        (take(9, bpm=60), Rating.Again),
        (take(0, bpm=TARGET, off_time=4), Rating.Hard),
        (take(0, bpm=TARGET * NUMBERS.easy_over_target, off_time=1), Rating.Good),
        (take(0, bpm=60, off_time=9), Rating.Again),
    ],
)
def test_what_the_days_first_timed_take_is_worth(played, rating):
    assert passage_rating(played) is rating


def test_a_take_without_the_metronome_is_not_rated():
    assert passage_rating(take()) is None
    assert passage_rating(take(stage=Stage.RHYTHM, bpm=TARGET)) is None
