"""Which takes have the most marks, and that they come back whole from text."""

from datetime import date, timedelta

import pytest

from game.coach.stages import Stage
from game.practice_log.queries.figures import figures_of
from game.practice_log.queries.marked_takes import (
    counted_marks,
    marked_take_from,
    marked_take_text,
    most_marked_lately,
    number_of_take,
)
from game.practice_log.rows.log_records import Terms
from tests.practice_log.classes.students import ADA, Pupil

MONDAY = date(2026, 11, 23)


@pytest.fixture(scope="module")
def pupil():
    """On each of three days all goes wrong in some takes, fewer of them each day."""
    pupil = Pupil(ADA, 1)
    for days, right in ((0, 0.0), (2, 0.5), (5, 0.8)):
        pupil.day(MONDAY + timedelta(days=days), Terms(stage=Stage.PLACES), right=right, takes=3)
    return pupil


def test_the_take_with_the_most_marks_comes_first_and_of_equals_the_newest(pupil):
    log = pupil.computer.log
    with figures_of(log, ADA.uuid):
        counted = counted_marks(log, MONDAY, MONDAY + timedelta(days=6))
        marks = [(one.marked, one.position) for one in counted]
        assert marks == sorted(marks, reverse=True)
        assert counted[0].marked == 6
        assert number_of_take(log, counted[0].take) == 3
        assert counted_marks(log, MONDAY + timedelta(days=6), MONDAY + timedelta(days=9)) == ()


def test_of_the_days_after_each_kept_one_the_next_is_kept(pupil):
    log = pupil.computer.log
    with figures_of(log, ADA.uuid):
        kept = [one.day for one, _ in most_marked_lately(log, MONDAY + timedelta(days=5))]
    assert kept == [MONDAY, MONDAY + timedelta(days=2), MONDAY + timedelta(days=5)]


def test_a_take_is_as_text_what_it_was(pupil):
    log = pupil.computer.log
    with figures_of(log, ADA.uuid):
        one = counted_marks(log, MONDAY, MONDAY)[0]
        take = marked_take_from(marked_take_text(log, one))
    assert (take.day, take.number, len(take.judgement.verdicts)) == (MONDAY, 3, len(take.asked.notes))


def test_what_is_no_such_text_is_refused():
    for text in ("not a take", "bm8gdGFrZQ=="):
        with pytest.raises(ValueError, match="header"):
            marked_take_from(text)
