"""As many processes as are worth it; one that cannot be started or breaks off costs one answer."""

from concurrent.futures import ThreadPoolExecutor

import pytest

from game.practice_log.classes import gathering_process as module
from game.practice_log.classes.class_writing import no_parts
from game.practice_log.classes.gathering_process import StudentProcess, answers_to, how_many_processes
from game.practice_log.classes.student_rows import NoRows, StudentTask
from tests.practice_log.classes.students import ADA


def _task():
    return StudentTask(student=ADA.uuid, files=[], there={}, parts_of=no_parts)


@pytest.mark.parametrize(
    ("processors", "students", "size_bytes", "expected"),
    [
        pytest.param(8, 1, 10**9, 1, id="one student"),
        pytest.param(8, 400, 100_000, 0, id="little to read"),
        pytest.param(2, 400, 10**9, 2, id="as many as there are processors"),
        pytest.param(64, 400, 10**9, 8, id="not without end"),
    ],
)
def test_processes_are_started_where_there_is_enough_to_read(monkeypatch, processors, students, size_bytes, expected):
    monkeypatch.setattr(module, "_processors", lambda: processors)
    assert how_many_processes(students, size_bytes) == expected


def test_a_process_that_cannot_be_started_is_no_answer(monkeypatch):
    monkeypatch.setattr(module.sys, "executable", "/nowhere/python")
    with StudentProcess() as process:
        assert process.ask(_task()) is None


def test_whoever_was_closed_answers_no_more():
    with StudentProcess() as process:
        pass
    assert process.ask(_task()) is None


def test_few_are_under_way_at_once_and_the_order_stays(monkeypatch):
    begun = []

    def tasks():
        for number in range(20):
            begun.append(number)
            yield _task()

    monkeypatch.setattr(StudentProcess, "ask", lambda *_: NoRows(fault=str(len(begun))))
    for number, (_, answer) in enumerate(answers_to(tasks(), 3)):
        assert isinstance(answer, NoRows)
        assert len(begun) <= number + 3 + 2


def test_whoever_stops_asking_ends_the_processes(monkeypatch):
    closed = []
    monkeypatch.setattr(StudentProcess, "ask", lambda *_: NoRows(fault=""))
    monkeypatch.setattr(StudentProcess, "_end", lambda *_: closed.append(1))
    answers = answers_to((_task() for _ in range(9)), 2)
    next(answers)
    answers.close()
    assert len(closed) == 2
    assert ThreadPoolExecutor(1).submit(len, closed).result() == 2
