"""Several processes do what one would do, each answer in its place; one that breaks off costs one answer."""

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from game.practice_log.classes import helper_processes as module
from game.practice_log.classes.helper_processes import HelperProcess, HelperProcesses, most_processes


@pytest.mark.parametrize(("processors", "expected"), [(1, 1), (2, 2), (64, 8)])
def test_there_are_as_many_as_processors_but_not_without_end(monkeypatch, processors, expected):
    monkeypatch.setattr(module, "_processors", lambda: processors)
    assert most_processes() == expected


def test_a_process_does_one_task_after_another_and_one_that_ends_it_is_no_answer():
    process = HelperProcess()
    asked = [(abs, -3), (os._exit, 3), (len, ""), (int, "x"), (ord, "a")]
    assert [process.ask(do, task) for do, task in asked] == [3, None, 0, None, 97]
    process.end()


def test_nothing_is_an_answer_too(monkeypatch):
    started = []
    start = module._started
    monkeypatch.setattr(module, "_started", lambda: started.append(1) or start())
    process = HelperProcess()
    assert [process.ask(print, "nobody reads this") for _ in range(3)] == [None, None, None]
    assert len(started) == 1
    process.end()


def test_a_process_that_cannot_be_started_is_no_answer(monkeypatch):
    monkeypatch.setattr(module.sys, "executable", "/nowhere/python")
    assert HelperProcess().ask(abs, -3) is None


def test_whoever_was_ended_answers_no_more():
    process = HelperProcess()
    process.end()
    assert process.ask(abs, -3) is None


def test_one_that_is_ended_while_it_is_being_started_does_not_go_on(monkeypatch):
    process, started, start = HelperProcess(), [], module._started

    def ended_meanwhile():
        started.append(start())
        process.end()
        return started[0]

    monkeypatch.setattr(module, "_started", ended_meanwhile)
    assert process.ask(abs, -3) is None
    assert started[0].returncode is not None


def test_with_one_process_all_is_done_here(monkeypatch):
    monkeypatch.setattr(module, "_started", lambda: pytest.fail("no process is worth it"))
    with HelperProcesses() as helpers:
        assert list(helpers.answers(abs, [-1, -2], processes=1)) == [(-1, 1), (-2, 2)]


def test_few_are_under_way_at_once_and_the_order_stays(monkeypatch):
    begun = []

    def tasks():
        for number in range(20):
            begun.append(number)
            yield number

    monkeypatch.setattr(HelperProcess, "ask", lambda _, do, task: do(task))
    with HelperProcesses() as helpers:
        for number, (task, answer) in enumerate(helpers.answers(hex, tasks(), 3)):
            assert (task, answer) == (number, hex(number))
            assert len(begun) <= number + 3 + 2


def test_whoever_stops_asking_may_ask_something_else_and_the_end_ends_all(monkeypatch):
    ended = []
    monkeypatch.setattr(HelperProcess, "ask", lambda _, do, task: do(task))
    monkeypatch.setattr(HelperProcess, "end", lambda *_: ended.append(1))
    with HelperProcesses() as helpers:
        answers = helpers.answers(hex, range(9), 2)
        next(answers)
        answers.close()
        assert list(helpers.answers(abs, [-1, -2, -3], 3)) == [(-1, 1), (-2, 2), (-3, 3)]
    assert len(ended) == 3
    assert ThreadPoolExecutor(1).submit(len, ended).result() == 3


def test_each_process_gets_ready_once_for_what_comes_afterwards(monkeypatch, tmp_path):
    """In a process of its own, for it leaves a file."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(module, "_called", _noted)
    with HelperProcesses(afterwards=os.getpid) as helpers:
        while len(list(tmp_path.iterdir())) < 2:
            assert [answer for _, answer in helpers.answers(abs, range(4), 2)] == [0, 1, 2, 3]
        assert [answer for _, answer in helpers.answers(abs, range(9), 2)] == list(range(9))
    assert len(list(tmp_path.iterdir())) == 2


def _noted(what):
    Path(f"{what()}").touch()
