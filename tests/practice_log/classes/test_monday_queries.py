"""Of a passage that does not get on there is all that a teacher asks: counted here again from rows written by hand."""

from datetime import timedelta

import pytest

from game.judging.verdicts import Cause, Verdict
from game.practice_log.classes.monday_queries import (
    LatelyPlayed,
    clean_in_tune,
    day_minutes,
    first_after,
    first_files,
    played_last,
    stuck_passage,
)
from tests.practice_log.classes.made_class import TODAY, made_class

WRONG, LATE = Verdict.WRONG_PITCH, Verdict.LATE


@pytest.fixture
def made(tmp_path):
    with made_class(tmp_path) as made:
        yield made


def test_what_was_amiss_is_counted_over_the_last_ten_takes_up_to_the_day_and_of_that_passage_and_student_alone(made):
    ada, ben = made.student(1, "Ada"), made.student(2, "Ben")
    for one in (ada, ben):
        made.passage(one, target=88)
        made.passage(one, passage=2, title="Another")
        made.take(one, 20, amiss=[("C4", WRONG, Cause.OCTAVE)], stage="time", bpm=70.0, clean=True)
        made.stuck(one, [("A5", WRONG, Cause.LEDGER), ("F4", LATE, None)], stage="time", bpm=60.0)
        made.take(one, 1, passage=2, amiss=[("D4", WRONG, Cause.SLIP)])
    made.take(ada, -1, amiss=[("E4", WRONG, Cause.SLIP)], stage="time", bpm=90.0, clean=True)
    found = stuck_passage(made.connection, ada, 1, TODAY)
    assert found.bars == LatelyPlayed(title="Ode to Joy", first="1", last="4")
    assert [(one.written, one.verdict, one.cause, one.times) for one in found.amiss] == [
        ("A5", WRONG, Cause.LEDGER, 10),
        ("F4", LATE, None, 10),
    ]
    assert [take.day for take in found.takes] == sorted(take.day for take in found.takes)
    assert len(found.takes) == 10
    assert (found.clean_bpm, found.target_bpm) == (70.0, 88)


def test_how_fast_a_tune_was_clean_goes_by_all_its_bars_up_to_the_day_and_by_no_other_tune(made):
    ada, ben = made.student(1, "Ada"), made.student(2, "Ben")
    for one in (ada, ben):
        made.passage(one)
        made.passage(one, passage=2, bars=("5", "8"))
        made.passage(one, passage=3, title="Another")
    for passage, ago, bpm, clean in ((1, 5, 60.0, True), (2, 3, 66.0, True), (2, 2, 90.0, False), (3, 2, 99.0, True)):
        made.take(ada, ago, passage=passage, stage="time", bpm=bpm, clean=clean)
    made.take(ada, -1, stage="time", bpm=70.0, clean=True)
    assert clean_in_tune(made.connection, ada, "Ode to Joy", TODAY) == 66.0
    assert clean_in_tune(made.connection, ben, "Ode to Joy", TODAY) is None


def test_what_is_neither_right_nor_wrong_and_what_was_right_is_not_amiss(made):
    ada = made.student(1, "Ada")
    made.passage(ada)
    of_no_share = [("C4", verdict, None) for verdict in (Verdict.UNREAD, Verdict.UNSURE, Verdict.CLEAN)]
    made.take(ada, 1, amiss=[*of_no_share, ("D4", Verdict.MISSED, None)])
    found = stuck_passage(made.connection, ada, 1, TODAY)
    assert [(one.written, one.verdict) for one in found.amiss] == [("D4", Verdict.MISSED)]
    assert (found.clean_bpm, found.target_bpm) == (None, None)


def test_of_those_alone_who_did_not_practise_in_the_week_it_is_told_what_they_played_last(made):
    ada, ben, cem = (made.student(number, name) for number, name in enumerate(("Ada", "Ben", "Cem"), start=1))
    for one in (ada, ben, cem):
        made.passage(one, 1, "First")
        made.passage(one, 2, "Second")
    made.take(ada, 9, passage=1)
    made.take(ada, 8, passage=2)
    made.take(ben, 9, passage=2)
    made.take(ben, 6, passage=1)
    made.take(cem, -1, passage=1)
    told = played_last(made.connection, TODAY)
    assert {student: bars.title for student, bars in told.items()} == {ada: "Second"}
    assert played_last(made.connection, TODAY - timedelta(days=2)).keys() == set()


def test_minutes_are_those_of_five_weeks_and_the_first_day_of_all_stands_before_them(made):
    ada, ben = made.student(1, "Ada"), made.student(2, "Ben")
    for ago in (100, 35, 34, 1, -1):
        made.day(ada, ago, minutes=float(ago + 2))
    made.day(ben, 3)
    told = day_minutes(made.connection, TODAY)
    assert [((TODAY - one.day).days, one.minutes) for one in told[ada]] == [(100, 0.0), (34, 36.0), (1, 3.0)]
    assert [((TODAY - one.day).days, one.minutes) for one in told[ben]] == [(3, 20.0)]


def test_each_has_a_file(made):
    ada = made.student(1, "Ada", file="monday/ada.zip")
    made.put("delivery", ada, path="monday/ada 2.zip")
    assert first_files(made.connection) == {ada: "monday/ada 2.zip"}


def test_the_first_day_after_today_is_told_of_those_who_have_one(made):
    ada, ben = made.student(1, "Ada"), made.student(2, "Ben")
    for ago in (3, -2, -400):
        made.day(ada, ago)
    made.day(ben, 0)
    assert first_after(made.connection, TODAY) == {ada: TODAY + timedelta(days=2)}
