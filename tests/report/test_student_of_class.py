"""What a teacher's page of a student is made of comes from the class alone, for the week that ends today."""

from datetime import timedelta

import pytest

from game.judging.verdicts import Cause, Verdict
from game.practice_log.classes.class_figures import ClassFigures
from game.practice_log.classes.class_file import read_class
from game.practice_log.classes.class_queries import class_week
from game.report.student_of_class import MOST_STUCK, MOST_WRONG_THERE, student_of_class
from tests.practice_log.classes.made_class import TODAY as MADE_TODAY
from tests.practice_log.classes.made_class import made_class
from tests.report.class_with_sheets import TITLES, TODAY, class_of_three, weeks_of


@pytest.fixture(scope="module")
def school_class():
    return class_of_three()


def seen_of(connection, name, today=TODAY):
    week = weeks_of(connection, today)[name]
    return student_of_class(connection, week, today)


def test_this_week_last_week_and_four_weeks_are_sums_of_the_same_days(school_class):
    seen = seen_of(school_class, "Ada")
    days = ClassFigures(school_class, weeks_of(school_class)["Ada"].student).days()
    for told, first, last in ((seen.now, 6, 0), (seen.before, 13, 7), (seen.weeks, 27, 0)):
        within = [day for day in days if TODAY - timedelta(days=first) <= day.day <= TODAY - timedelta(days=last)]
        assert (told.minutes, told.takes, told.read, told.clean_timed) == (
            sum(day.minutes for day in within),
            sum(day.takes for day in within),
            sum(day.read for day in within),
            sum(day.clean_timed for day in within),
        )
    assert seen.days_practised[0] + seen.days_practised[1] == seen.days_practised[2] == len(days)
    assert seen.now.minutes == pytest.approx(weeks_of(school_class)["Ada"].week_minutes)


def test_a_week_later_there_is_no_practice_and_what_was_this_week_is_the_week_before(school_class):
    now, later = seen_of(school_class, "Ada"), seen_of(school_class, "Ada", TODAY + timedelta(days=7))
    assert (later.now.minutes, later.days_practised[0], later.marked, later.wrong, later.lately) == (0, 0, None, (), ())
    assert later.before == now.now
    long_after = seen_of(school_class, "Ada", TODAY + timedelta(days=60))
    assert (long_after.weeks.takes, long_after.stuck) == (0, ())


def test_what_is_stuck_has_its_tempi_and_its_faults_and_stands_once(school_class):
    seen = seen_of(school_class, "Ada")
    assert (len(seen.stuck), seen.stuck_in_all) == (MOST_STUCK, 4)
    for one in seen.stuck:
        assert one.takes[-1].tempo_bpm == one.passage.newest_bpm
        assert [take.day for take in one.takes] == sorted(take.day for take in one.takes)
        assert 0 < len(one.wrong) <= MOST_WRONG_THERE
        assert {wrong.title for wrong in one.wrong} == {one.passage.title}
    assert not {one.passage.key for one in seen.stuck} & {one.key for one in seen.lately}
    assert {one.passage.title for one in seen_of(school_class, "Ben").stuck} == {TITLES[0]}


def test_the_marked_take_of_the_week_can_be_drawn(school_class):
    seen = seen_of(school_class, "Ada")
    assert TODAY - timedelta(days=7) < seen.marked.day <= TODAY
    assert len(seen.marked.judgement.verdicts) == len(seen.marked.expected)


@pytest.mark.parametrize("nonsense", ["bm8gdGFrZQ==", "?", "eJyrBQAAewBu"])
def test_nonsense_in_place_of_a_marked_take_leaves_the_page_without_it(school_class, nonsense):
    school_class.execute("BEGIN")
    school_class.execute("UPDATE marked_take SET content = ?", (nonsense,))
    try:
        assert seen_of(school_class, "Ada").marked is None
    finally:
        school_class.execute("ROLLBACK")


def test_somebody_who_never_practised_has_a_page_of_zeros(school_class):
    seen = seen_of(school_class, "Cem")
    assert (seen.weeks.minutes, seen.days, seen.stuck, seen.slow, seen.neck_map, seen.warning) == (
        0,
        (),
        (),
        (),
        None,
        None,
    )


def test_notes_off_the_click_are_told_beside_the_wrong_ones(tmp_path):
    with made_class(tmp_path) as made:
        student = made.student(1, "Ada")
        made.passage(student)
        amiss = [("A4", Verdict.LATE, None), ("A4", Verdict.EARLY, None), ("B4", Verdict.EARLY, None)]
        made.stuck(student, [*amiss, ("C5", Verdict.WRONG_PITCH, Cause.SLIP)], stage="time", bpm=60.0)
    with read_class(tmp_path / "made.sqlite") as asked:
        (week,) = class_week(asked, MADE_TODAY)
        (one,) = student_of_class(asked, week, MADE_TODAY).stuck
    assert one.off_time == (("A4", 20), ("B4", 10))
    assert len(one.takes) == 10
