"""The days between: when a note or a signed-off passage should come back, by the `fsrs` library.

It works in days: an item is rated at most once a day, from that day's takes. A success before the due day is no proof
of remembering and is left out; a failure counts whenever it comes. The library's chance ("fuzz") is always off, and
ids and times are passed in: left to itself its `Card()` reads the clock and sleeps. Days count from any fixed one.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TypeVar

from fsrs import Card, Rating, Scheduler, State

_SCHEDULER = Scheduler(enable_fuzzing=False)
_DAY_0 = datetime(1, 1, 1, tzinfo=UTC)
# The library wants a number for a card and does nothing with it but hand it back.
_CARD_ID = 1

Key = TypeVar("Key")


@dataclass(frozen=True, slots=True, kw_only=True)
class Review:
    """How well something is remembered, in the terms of `fsrs`: `stability` in days, `difficulty` 1 to 10, `state` and
    `step` its stage of learning. `due_at` and `reviewed_at` are UTC; make days of them with `due_day`.
    """

    state: int
    step: int | None
    stability: float
    difficulty: float
    due_at: datetime
    reviewed_at: datetime


def review_after(review: Review | None, rating: Rating, at: datetime) -> Review:
    """What is remembered after one rating; None where it is the first. `at` is UTC and says so."""
    card = Card(card_id=_CARD_ID, due=at) if review is None else _card(review)
    card, _ = _SCHEDULER.review_card(card, rating, review_datetime=at)
    if card.stability is None or card.difficulty is None or card.last_review is None:
        raise ValueError(f"the library gave back a card that was not rated: {card}")
    return Review(
        state=card.state.value,
        step=card.step,
        stability=card.stability,
        difficulty=card.difficulty,
        due_at=card.due,
        reviewed_at=card.last_review,
    )


def on_day(day: int) -> datetime:
    """The moment that stands for a day in a `Review`."""
    return _DAY_0 + timedelta(days=day)


def due_day(review: Review) -> int:
    """The first day on which it should come back: never the day of the rating, and what falls due within a day is due
    on it.
    """
    rated = (review.reviewed_at - _DAY_0).days
    return max((review.due_at - _DAY_0).days, rated + 1)


def recall_chance(review: Review, day: int) -> float:
    """The chance that it is still remembered on a day, 0 to 1."""
    return _SCHEDULER.get_card_retrievability(_card(review), current_datetime=on_day(day))


def reviews_after(reviews: Mapping[Key, Review], day: int, ratings: Mapping[Key, Rating]) -> Mapping[Key, Review]:
    """The reviews after a day with its ratings, one for each item. What was rated on that day or later stays."""
    after = dict(reviews)
    for key, rating in ratings.items():
        before = reviews.get(key)
        if before is None or _counts(before, rating, day):
            after[key] = review_after(before, rating, on_day(day))
    return after


def due(reviews: Mapping[Key, Review], day: int) -> tuple[Key, ...]:
    """What should come back by `day`, the least remembered first."""
    waiting = [key for key, review in reviews.items() if due_day(review) <= day]
    return tuple(sorted(waiting, key=lambda key: recall_chance(reviews[key], day)))


def _counts(review: Review, rating: Rating, day: int) -> bool:
    """Whether a rating says anything: on the due day or after it, or a failure on any later day than the last."""
    if day >= due_day(review):
        return True
    return rating is Rating.Again and on_day(day) > review.reviewed_at


def _card(review: Review) -> Card:
    return Card(
        card_id=_CARD_ID,
        state=State(review.state),
        step=review.step,
        stability=review.stability,
        difficulty=review.difficulty,
        due=review.due_at,
        last_review=review.reviewed_at,
    )
