"""A student's rows keep their numbers, and only what is another than before is written."""

import pytest

from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_writing import SetPart, put_practice
from game.practice_log.database.migrations import transaction
from tests.practice_log.classes.students import ADA, student


@pytest.fixture
def into(tmp_path):
    with open_class(tmp_path / "class.sqlite") as connection:
        yield connection


def _put(into, computer, **how):
    with transaction(into):
        return put_practice(into, ADA.uuid, computer.log, **how)


def _numbers(into):
    return dict(into.execute("SELECT entry_key, take FROM take").fetchall())


def _written(into, work):
    """How many rows a piece of work changed."""
    before = into.total_changes
    work()
    return into.total_changes - before


def test_what_is_there_already_is_not_written_again(into):
    computer = student(ADA, 1)
    assert _put(into, computer) > 0
    assert _written(into, lambda: _put(into, computer)) == 0


def test_takes_keep_their_numbers_when_more_come(into):
    computer = student(ADA, 1, steps=8)
    _put(into, computer)
    before = _numbers(into)
    _put(into, computer.practise(8))
    assert before.items() < _numbers(into).items()


def test_a_take_that_was_judged_anew_gets_its_notes_anew(into):
    computer = student(ADA, 1)
    _put(into, computer)
    number, take = computer.play()
    assert _put(into, computer) == 1
    count = into.execute("SELECT COUNT(*) FROM note").fetchone()
    computer.end(number, take)
    assert _put(into, computer) == 0
    assert into.execute("SELECT COUNT(*) FROM note").fetchone() == count


def test_parts_that_were_set_are_kept_as_they_are_told(into):
    computer = student(ADA, 1, steps=3)
    _put(into, computer, parts_of=lambda _, student: [SetPart("d", 0, "time", str(student), "2026-12-07")])
    assert into.execute("SELECT title, done_day FROM set_part").fetchall() == [(str(ADA.uuid), None)]
    _put(into, computer, parts_of=lambda *_: [])
    assert into.execute("SELECT COUNT(*) FROM set_part").fetchone() == (0,)
