"""One player's report, put together from figures."""

from datetime import date, timedelta

import pytest

from game.practice_log.queries.figure_records import DayFigures, NoteFigures
from game.report.student import MOST_POINTS, by_weeks, quicker, student_report, together

MONDAY = date(2026, 3, 2)


def day(at, *, read=10, clean=9, minutes=20.0):
    return DayFigures(
        day=MONDAY + timedelta(days=at), minutes=minutes, takes=2, read=read, clean=clean, found=10, found_s=12.0,
        found_s2=20.0,
    )  # fmt: skip


def note(written, *, read=9, clean=9, timed=5, find_s=1.0):
    return NoteFigures(written=written, string=3, fret=5, read=read, clean=clean, timed=timed, find_s=find_s)


def test_quicker_is_what_took_a_tenth_less_where_both_weeks_tell():
    before = [note("C5", find_s=2.0), note("D5", find_s=2.0), note("E5", timed=2, find_s=2.0), note("F5", find_s=3.0)]
    now = [note("C5", find_s=1.7), note("D5", find_s=1.9), note("E5", find_s=1.0), note("F5", find_s=1.0), note("G5")]
    assert [(gain.written, gain.before_s, gain.now_s) for gain in quicker(before, now)] == [
        ("F5", 3.0, 1.0), ("C5", 2.0, 1.7),
    ]  # fmt: skip


def test_days_together_are_their_sums_under_the_first():
    whole = together([day(0), day(1, read=5, clean=1)])
    assert (whole.day, whole.minutes, whole.read, whole.clean) == (MONDAY, 40.0, 15, 10)
    assert (whole.found, whole.found_s, whole.found_s2) == (20, 24.0, 40.0)
    with pytest.raises(ValueError, match="no days"):
        together([])


def test_few_days_are_shown_as_they_are_and_many_by_weeks_from_monday_the_last_year_of_them():
    few = [day(at) for at in range(MOST_POINTS)]
    assert by_weeks(few) == (tuple(few), "day")
    weeks, span = by_weeks([day(at) for at in range(3, 3 + MOST_POINTS + 1)])
    assert span == "week"
    assert [week.day for week in weeks[:2]] == [MONDAY + timedelta(days=3), MONDAY + timedelta(days=7)]
    assert weeks[0].takes == 2 * 4
    years, _ = by_weeks([day(at) for at in range(800)])
    assert len(years) == 52


class Asked:
    """Figures of a few days, and of nothing else."""

    def __init__(self, *days):
        self._days = days

    def days(self):
        return self._days

    def nothing(self, *_):
        return ()

    notes = passages = maps = went_wrong = nothing

    def newest_map(self):
        return None

    def held(self):
        return None


def test_the_week_ends_today_for_a_teacher_and_with_the_last_day_for_the_player():
    asked = Asked(day(0), day(6, minutes=30.0))
    own = student_report(asked, "Ada")
    assert (own.until, own.week_minutes) == (MONDAY + timedelta(days=6), 50.0)
    for after, minutes in ((6, 50.0), (7, 30.0), (12, 30.0), (13, 0.0)):
        assert student_report(asked, "Ada", today=MONDAY + timedelta(days=after)).week_minutes == minutes
    assert student_report(asked, "Ada", today=MONDAY + timedelta(days=3)).days == (day(0),)
    assert student_report(asked, "Ada", today=MONDAY - timedelta(days=1)) is None


def test_who_stayed_away_for_four_weeks_has_recent_figures_of_nothing():
    report = student_report(Asked(day(0)), "Ada", today=MONDAY + timedelta(days=28))
    assert (report.recent.minutes, report.recent.read, report.recent.share) == (0, 0, None)


def test_first_sight_with_the_click_and_without_are_two_figures():
    both = DayFigures(
        day=MONDAY, minutes=1.0, takes=2, read=30, clean=20, found=0, found_s=0.0, read_timed=10, clean_timed=2
    )
    assert (both.untimed, both.timed) == ((20, 18), (10, 2))
