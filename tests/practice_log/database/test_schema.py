"""The tables, and what keeps their facts."""

import sqlite3

import pytest

from game.practice_log.database.schema import STEPS, append_only_triggers
from tests.practice_log.opened_log import in_memory

TWO_TABLES = "CREATE TABLE note (n INTEGER);\nCREATE INDEX note_by_n ON note (n);\nCREATE TABLE rest (r INTEGER);\n"


def test_rows_may_be_added_to_each_table_of_a_script_and_none_changed_or_taken_away():
    log = in_memory()
    log.executescript(TWO_TABLES + append_only_triggers(TWO_TABLES))
    log.execute("INSERT INTO note VALUES (1)")
    log.execute("INSERT INTO rest VALUES (1)")
    for statement in ("UPDATE note SET n = 2", "DELETE FROM note", "UPDATE rest SET r = 2", "DELETE FROM rest"):
        with pytest.raises(sqlite3.IntegrityError, match="the practice log is only added to"):
            log.execute(statement)
    assert log.execute("SELECT n, r FROM note, rest").fetchall() == [(1, 1)]


def test_each_step_has_a_name_of_its_own_and_can_be_taken_after_those_before():
    assert len({name for name, _ in STEPS}) == len(STEPS)
    log = in_memory()
    for _, tables in STEPS:
        log.executescript(tables)
        log.executescript(append_only_triggers(tables))
