"""A student's rows are made apart, and come into the class as if they had been put there at once."""

import pytest

from game.practice_log.classes import student_log as module
from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_writing import no_parts, put_practice
from game.practice_log.classes.file_owner import FileOwner
from game.practice_log.classes.student_log import student_log
from game.practice_log.classes.student_rows import (
    NoRows,
    StudentTask,
    rows_of_student,
    rows_there,
    take_over,
)
from game.practice_log.database.migrations import transaction
from game.practice_log.foreign.documents_of_file import documents_of_file
from tests.practice_log.classes.students import ADA, BEN, hand_in, held, student


@pytest.fixture(autouse=True)
def read_here(monkeypatch):
    monkeypatch.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))


def _files(folder):
    return [(folder / "ada.zip", FileOwner((ADA.uuid,), "Ada", "2026"))]


def _rows(into, folder, parts_of=no_parts):
    files = _files(folder)
    there = rows_there(into, ADA.uuid)
    return rows_of_student(StudentTask(student=ADA.uuid, files=files, there=there, parts_of=parts_of))


def _take(into, rows):
    into.execute("ATTACH ':memory:' AS small")
    into.deserialize(rows.image, name="small")
    before = into.total_changes
    with transaction(into):
        take_over(into, ADA.uuid, "small")
    into.execute("DETACH small")
    return into.total_changes - before


def test_rows_made_apart_come_to_the_same_as_rows_put_at_once_however_a_log_grows(tmp_path):
    computer = student(ADA, 1, steps=6)
    with open_class(tmp_path / "apart.sqlite") as apart, open_class(tmp_path / "at once.sqlite") as at_once:
        for steps in (0, 6, 6):
            number, take = computer.practise(steps).play()
            for again in range(2):
                hand_in(computer, tmp_path / "ada.zip")
                rows = _rows(apart, tmp_path)
                _take(apart, rows)
                with student_log(ADA.uuid, _files(tmp_path)) as log, transaction(at_once):
                    assert put_practice(at_once, ADA.uuid, log.connection) == rows.takes
                assert held(apart) == held(at_once)
                if not again:
                    # The take is judged again.
                    computer.end(number, take)
        assert rows_there(apart, ADA.uuid) == rows_there(at_once, ADA.uuid)


def test_what_is_there_already_is_not_written_again_and_nobody_elses_is_touched(tmp_path):
    computer = student(ADA, 1, steps=6)
    hand_in(computer, tmp_path / "ada.zip")
    with open_class(tmp_path / "class.sqlite") as into:
        with transaction(into):
            put_practice(into, BEN.uuid, student(BEN, 2, steps=4).log)
        of_ben = rows_there(into, BEN.uuid)
        assert _take(into, _rows(into, tmp_path)) > 0
        assert _take(into, _rows(into, tmp_path)) == 0
        assert rows_there(into, BEN.uuid) == of_ben


def test_a_log_that_makes_no_sense_and_whatever_breaks_there_is_told_by_its_name(tmp_path):
    hand_in(student(ADA, 1, steps=2), tmp_path / "ada.zip")

    def breaks(*_):
        raise LookupError

    with open_class(tmp_path / "class.sqlite") as into:
        assert _rows(into, tmp_path, breaks) == NoRows(fault="LookupError")


def test_of_files_none_of_which_can_be_read_there_is_no_image(tmp_path):
    (tmp_path / "ada.zip").write_bytes(b"PK")
    with open_class(tmp_path / "class.sqlite") as into:
        rows = _rows(into, tmp_path)
    assert rows.image == b""
    assert rows.refused.keys() == {tmp_path / "ada.zip"}
