"""What was set is held against what was done, part by part: recounted here by hand."""

from datetime import timedelta

import pytest

from game.report.monday.class_monday import class_monday
from game.report.monday.set_and_done import parts_of_class
from tests.practice_log.classes.made_class import TODAY, days_ago, made_class


@pytest.fixture
def made(tmp_path):
    with made_class(tmp_path) as made:
        yield made


def _parts(made, today=TODAY):
    return parts_of_class(class_monday(made.connection, today, accepts=lambda _: True), today)


def test_a_part_is_done_by_those_alone_who_did_all_its_stages(made):
    names = ("Ada", "Ben", "Cem")
    students = [made.student(number, name) for number, name in enumerate(names, start=1)]
    for student, done in zip(students, ((5, 4), (5, None), (None, None)), strict=True):
        for stage, ago in zip(("places", "time"), done, strict=True):
            done_day = None if ago is None else days_ago(ago)
            made.set_part(student, 2, stage=stage, done_day=done_day)
            made.set_part(student, -3, part=1, stage=stage, done_day=done_day)
    first, second = _parts(made)
    assert (first.part.part, first.set_for, first.done, first.overdue, first.open) == (0, 3, 1, ("Ben", "Cem"), ())
    assert (second.part.part, second.done, second.overdue, second.open) == (1, 1, (), ("Ben", "Cem"))
    (then, *_) = _parts(made, TODAY - timedelta(days=4))
    assert (then.done, then.overdue, then.open) == (1, (), ("Ben", "Cem"))


def test_what_was_withdrawn_or_done_long_ago_is_not_shown_and_what_is_open_always_is(made):
    ada = made.student(1, "Ada")
    made.set_part(ada, 2, part=0, withdrawn=1)
    made.set_part(ada, 8, part=1, done_day=days_ago(9))
    made.set_part(ada, 50, part=2)
    made.put("set_part", ada, digest="d", part=3, title="No day", opened_day=days_ago(3))
    assert [part.part.part for part in _parts(made)] == [2, 3]
