"""What was set against what was done comes to the same on the player's own sheet and in their teacher's class."""

import pickle
import sqlite3
from contextlib import closing
from datetime import date, timedelta

import pytest

from game.assignments.assignment_reader import assignment_from
from game.coach.stages import Stage
from game.player.assignment_facts import digest_of, opened_content
from game.player.parts_in_log import parts_in_log, parts_never_begun
from game.practice_log.classes import file_owner, student_log
from game.practice_log.classes.class_queries import class_week
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.database.identity import Identity
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.practice_log.rows.entry_rows import About
from game.practice_log.transfer.export import write_export
from game.screens.routes import ToAssigned, ToPage
from tests.player.test_player_assignments import LINES, WEEK, found
from tests.practice_log.transfer.practised import Computer

DUE = date(2026, 11, 26)


@pytest.fixture
def handed_in(tmp_path, monkeypatch):
    """A class of whoever sits at a table, gathered from their export."""
    for module in (file_owner, student_log):
        monkeypatch.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))

    def gathered(table, today):
        log = table.context.session.log
        assert log.flush()
        folder = tmp_path / "class"
        folder.mkdir(exist_ok=True)
        with log.reading() as connection:
            write_export(connection, Identity(uuid=log.player.uuid, name="Ada"), folder / "ada.zip", now=table.now())
        assert gather_class(folder, folder / "class.sqlite", parts_of=parts_in_log).faults == []
        with closing(sqlite3.connect(folder / "class.sqlite")) as connection:
            (week,) = class_week(connection, today)
        return week.parts

    return gathered


def told_by_sheet(table):
    """What the player's own sheets say, as the rows of a class do."""
    assignments, told = table.context.session.assignments, []
    for kept in table.context.session.log.facts.assignments.kept:
        title = assignments.of(kept.id).assignment.title
        for number, part in enumerate(assignments.against_done(kept.id).parts):
            if part.days_wanted:
                told.append((title, number, "", part.done, part.day, part.days, part.days_wanted))
            else:
                told += [
                    (title, number, one.stage.value, one.done, one.day, one.pages_done, max(1, one.pages))
                    for one in part.stages
                ]
    return sorted(told)


def told_by_class(parts):
    return sorted(
        (
            one.set_in,
            one.part,
            one.stage,
            one.done is not None,
            one.done and one.done.toordinal(),
            one.steps_done,
            one.steps,
        )
        for one in parts
    )


def test_the_sheet_and_the_class_say_the_same(table, handed_in):
    session = table.context.session
    week = session.assignments.open(WEEK)
    lines = session.assignments.open(LINES.replace("a_day = 2", "a_day = 1"))
    other = WEEK.replace("[1, 4]", "[5, 8]")
    session.assignments.open(other.replace("The week", "Never begun"))
    session.assignments.withdraw(session.assignments.open(other.replace("The week", "Left out")).id)
    table.go(ToAssigned(week.id, 0))
    found(table)
    table.day += 1
    table.go(ToAssigned(lines.id, 0))
    for _ in table.screen.request.passages:
        found(table)
        if not table.screen.request.is_last:
            table.go(ToPage(table.screen.request.moved(1).in_stage(Stage.PLACES), chosen=True))
    today = session.today()
    parts = handed_in(table, today)
    assert told_by_class(parts) == told_by_sheet(table)
    first = today - timedelta(days=1)
    assert {(one.set_in, one.stage, one.done) for one in parts if one.done} == {
        ("The week", "places", first),
        ("Lines", "", today),
    }
    assert {one.set_in for one in parts if one.withdrawn} == {"Left out"}
    # The day before, nothing of the lines was done.
    assert {one.set_in for one in handed_in(table, first) if one.done} == {"The week"}
    late = DUE + timedelta(days=1)
    assert {(one.set_in, one.stage) for one in parts if one.is_overdue(late)} == {
        ("The week", "sight"),
        ("Never begun", "places"),
        ("Never begun", "sight"),
    }


def test_a_corrected_file_is_one_assignment_and_keeps_what_was_done(table, handed_in):
    session = table.context.session
    opened = session.assignments.open(WEEK)
    table.go(ToAssigned(opened.id, 0))
    found(table)
    session.assignments.open(WEEK.replace("[[tune]]", "[[line]]\nlevel = 1\n[[tune]]", 1).replace("11-26", "11-27"))
    parts = handed_in(table, session.today())
    assert [(one.part, one.stage, one.due, one.done is not None) for one in parts] == [
        (0, "places", date(2026, 11, 27), True),
        (0, "sight", date(2026, 11, 27), False),
        (1, "", date(2026, 11, 27), False),
    ]
    assert told_by_class(parts) == told_by_sheet(table)


def test_a_tune_that_the_student_alone_has_is_no_fault():
    computer = Computer(1)
    text = 'title = "Alone"\n[[tune]]\nfile = "ours.musicxml"\n'
    computer.say(About.ASSIGNMENT, **opened_content(text, title="Alone", due="", day=date(2026, 11, 2)))
    (row,) = parts_in_log(computer.log, computer.player.uuid)
    assert (row.set_in, row.title, row.stage, row.done_day, row.opened_day) == (
        "Alone",
        "ours.musicxml",
        "",
        None,
        "2026-11-02",
    )


def test_facts_that_make_no_sense_are_passed_over():
    computer = Computer(1)
    good = opened_content(LINES, title="Lines", due="", day=date(2026, 11, 2))
    for content in (
        {"digest": "no", "text": LINES},
        {"digest": digest_of("x"), "text": "x = [[[", "title": "x", "due": "never"},
        {"digest": digest_of("y"), "text": "\0" * 9, "title": 3},
        {"digest": good["digest"], "withdrawn": "perhaps"},
        {"digest": good["digest"], "part": 10**9, "pages": ["0" * 32], "whole": "0" * 32},
        {"digest": good["digest"], "part": 7, "pages": ["0" * 32], "whole": "0" * 32},
        {"digest": good["digest"], "part": 0, "pages": [None], "whole": []},
        good,
    ):
        computer.say(About.ASSIGNMENT, **content)
    (row,) = parts_in_log(computer.log, computer.player.uuid)
    assert (row.set_in, row.level, row.a_day, row.steps, row.step_days) == ("Lines", 1, 2, 1, "")


def test_what_was_never_opened_is_set_and_not_done():
    rows = parts_never_begun("d", assignment_from(WEEK))
    assert [(row.stage, row.title, row.first_bar, row.last_bar, row.due, row.done_day) for row in rows] == [
        ("places", "Ode to Joy", 1, 4, "2026-11-26", None),
        ("sight", "Ode to Joy", 1, 4, "2026-11-26", None),
    ]
    assert {row.opened_day for row in rows} == {""}


def test_it_can_be_sent_to_another_process():
    assert pickle.loads(pickle.dumps(parts_in_log)) is parts_in_log
