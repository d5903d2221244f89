"""The days between, by the fsrs library."""

from datetime import UTC, datetime, timedelta

import pytest
from fsrs import Rating
from hypothesis import given
from hypothesis import strategies as st

from game.coach.notes.review import due, due_day, on_day, recall_chance, review_after, reviews_after

MORNING = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
RATINGS = st.sampled_from(list(Rating))


def test_good_on_every_due_date_comes_back_after_ten_minutes_and_then_2_11_46_163_and_498_days():
    """Published: the library fsrs 6.3, fuzz off (check-values)."""
    review, at, gaps = None, MORNING, []
    for _ in range(6):
        review = review_after(review, Rating.Good, at)
        gaps.append(review.due_at - at)
        at = review.due_at
    assert gaps == [timedelta(minutes=10), *(timedelta(days=days) for days in (2, 11, 46, 163, 498))]


def test_the_same_ratings_at_the_same_times_always_give_the_same_reviews():
    def once():
        review = None
        for day, rating in enumerate((Rating.Good, Rating.Hard, Rating.Again, Rating.Easy), start=100):
            review = review_after(review, rating, on_day(day))
        return review

    assert once() == once()


def test_what_was_rated_today_never_comes_back_today():
    review = review_after(None, Rating.Again, on_day(50))
    assert review.due_at - on_day(50) < timedelta(minutes=5)
    assert due_day(review) == 51


def test_a_success_before_the_due_day_is_left_out_and_a_failure_is_not():
    reviews = {}
    for day in (10, 11):
        reviews = reviews_after(reviews, day, {"Bb3": Rating.Good})
    due_on = due_day(reviews["Bb3"])
    assert due_on > 13
    assert reviews_after(reviews, 12, {"Bb3": Rating.Good}) == reviews
    failed = reviews_after(reviews, 12, {"Bb3": Rating.Again})
    assert due_day(failed["Bb3"]) == 13


def test_an_item_is_rated_once_a_day():
    reviews = reviews_after({}, 10, {"Bb3": Rating.Good})
    assert reviews_after(reviews, 10, {"Bb3": Rating.Again}) == reviews
    assert reviews_after(reviews, 9, {"Bb3": Rating.Again}) == reviews


def test_the_least_remembered_comes_first():
    reviews = reviews_after({}, 10, {"quick": Rating.Easy, "slow": Rating.Hard, "failed": Rating.Again})
    assert due(reviews, 10) == ()
    assert due(reviews, 60)[:2] == ("failed", "slow")
    assert (
        recall_chance(reviews["failed"], 60) < recall_chance(reviews["slow"], 60) < recall_chance(reviews["quick"], 60)
    )


@given(st.lists(st.tuples(st.integers(1, 40), RATINGS), min_size=1, max_size=8))
def test_a_better_last_rating_never_brings_it_back_sooner(steps):
    day, review = 1, None
    for gap, rating in steps[:-1]:
        day += gap
        review = review_after(review, rating, on_day(day))
    day += steps[-1][0]
    due_days = [due_day(review_after(review, rating, on_day(day))) for rating in Rating]
    assert due_days == sorted(due_days)
    assert due_days[0] > day


def test_a_time_without_a_zone_is_refused():
    with pytest.raises(ValueError, match="UTC"):
        review_after(None, Rating.Good, datetime(2026, 11, 25, 7, 30))  # noqa: DTZ001 - that is the point
