"""The figures of a day."""

import pytest

from game.practice_log.queries.figure_records import DayFigures
from tests.practice_log.logged_takes import MORNING

FIRST = MORNING.date()


def day(*, read: int = 0, clean: int = 0, found: int = 0, found_s: float = 0.0, found_s2: float = 0.0) -> DayFigures:
    return DayFigures(
        day=FIRST, minutes=1.0, takes=1, read=read, clean=clean, found=found, found_s=found_s, found_s2=found_s2
    )


def test_the_share_of_clean_notes_has_the_interval_of_wilson():
    """30 of 40: 0.598 to 0.858 at 95 % (Wilson 1927; calc: (p + z²/2n ± z·sqrt(pq/n + z²/4n²)) / (1 + z²/n))."""
    told = day(read=40, clean=30)
    assert told.share == 0.75
    assert told.interval == pytest.approx((0.5981, 0.8581), abs=0.0001)


def test_a_day_without_first_sight_has_no_share():
    assert day().share is None


def test_pace_is_notes_a_second_with_the_interval_of_the_mean_time_turned_over():
    """Times 1, 2 and 3 s: mean 2, standard deviation 1, so 2 ± 1.96 / sqrt(3) s (calc)."""
    told = day(found=3, found_s=6.0, found_s2=14.0)
    assert told.notes_a_second == 0.5
    assert told.pace_interval == pytest.approx((1 / 3.1316, 1 / 0.8684), abs=0.0005)
    assert day(found=1, found_s=2.0, found_s2=4.0).pace_interval is None
    assert day().notes_a_second is None
