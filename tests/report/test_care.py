"""Care for hands and ears."""

from datetime import date, timedelta

import pytest

from game.practice_log.queries.figure_records import DayFigures
from game.report.care import ADVICE, minutes_between, of_somebody_else, rise
from game.text.catalogue import tell

TODAY = date(2026, 3, 29)


def practised(*amounts):
    """Days that end with today, a day each, oldest first; 0 is a day without practice."""
    start = TODAY - timedelta(days=len(amounts) - 1)
    return [
        DayFigures(day=start + timedelta(days=at), minutes=minutes, takes=1, read=0, clean=0, found=0, found_s=0.0)
        for at, minutes in enumerate(amounts)
        if minutes
    ]


def test_minutes_between_two_days_hold_the_second_and_not_the_first():
    days = practised(10, 20, 40)
    assert minutes_between(days, TODAY - timedelta(days=2), TODAY) == 60
    assert minutes_between(days, TODAY - timedelta(days=1), TODAY) == 40
    assert minutes_between((), TODAY, TODAY) == 0


def test_a_week_of_much_more_than_those_before_is_told_with_both():
    told = rise(practised(*[20] * 28, *[40] * 7), TODAY)
    assert tell(told).startswith("You practised 280 minutes in the last week; the weeks before it came to 140 each.")


@pytest.mark.parametrize(
    ("amounts", "why"),
    [
        ([20] * 35, "no more than before"),
        ([20] * 28 + [29] * 7, "less than half as much again"),
        ([4] * 28 + [12] * 7, "less than an hour more"),
        ([40] * 7, "no week before it"),
        ([], "nothing at all"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_nothing_is_said_of_a_week_that_is(amounts, why):
    assert rise(practised(*amounts), TODAY) is None, why


def test_a_single_week_before_counts_as_one():
    assert rise(practised(*[20] * 7, *[40] * 7), TODAY) is not None


def test_the_advice_names_clinician_teacher_and_the_bound_for_ears():
    """80 dB for 40 hours a week: WHO-ITU H.870."""
    said = " ".join(tell(word) for word in ADVICE)
    for word in ("clinician", "teacher", "80 dB", "40 hours"):
        assert word in said


def test_to_a_teacher_a_rise_is_told_as_somebody_elses_and_other_words_as_they_are():
    told = rise(practised(*[20] * 28, *[40] * 7), TODAY)
    assert of_somebody_else(told).startswith("Practised 280 minutes this week; the weeks before it came to 140 each.")
    assert of_somebody_else(ADVICE[0]) == tell(ADVICE[0])
