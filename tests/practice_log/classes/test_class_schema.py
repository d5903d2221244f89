"""The tables of a class: the student first in every key, and a number for every word of the judge."""

import re

from game.judging.verdicts import COUNTS_AS_CLEAN, NOT_ASKED, Cause, Verdict
from game.practice_log.classes import class_schema
from game.practice_log.classes.class_schema import KEYS, TABLES, insert_statement, table_statements
from tests.practice_log.opened_log import in_memory


def test_every_verdict_and_cause_has_a_number_of_its_own_that_stays():
    """They stand in files: a new word gets a new number."""
    assert set(class_schema.VERDICTS) == set(Verdict)
    assert set(class_schema.CAUSES) == set(Cause)
    assert [verdict.value for verdict in class_schema.VERDICTS] == [
        "clean", "early", "late", "wrong pitch", "other place", "missed", "hinted", "unread", "unsure",
    ]  # fmt: skip
    assert list(class_schema.VERDICTS.values()) == list(range(1, 10))
    assert len(set(class_schema.CAUSES.values())) == len(Cause)
    assert class_schema.RIGHT == "1, 2, 3"
    assert class_schema.NO_SHARE == "8, 9"
    assert len(COUNTS_AS_CLEAN) + len(NOT_ASKED) == 5


def test_the_student_comes_first_in_the_key_of_every_table_that_holds_something_of_one():
    for statement in table_statements(id_type="BLOB", ending=" WITHOUT ROWID"):
        if statement.startswith("CREATE TABLE") and class_schema.REFUSED not in statement:
            assert re.search(r"\(student BLOB NOT NULL, ", statement)
            assert "PRIMARY KEY (student" in statement
        if statement.startswith("CREATE INDEX") and "same_player" not in statement:
            assert "(student" in statement
    assert KEYS.keys() == TABLES.keys()


def test_the_tables_take_a_row_in_the_order_of_their_columns():
    connection = in_memory()
    for statement in table_statements(id_type="BLOB", ending=" WITHOUT ROWID"):
        connection.execute(statement)
    connection.execute(insert_statement("mark"), (b"1" * 16, 1, "found", 1, "2026-11-30"))
    assert connection.execute("SELECT passage, mark, day FROM mark").fetchall() == [(1, "found", "2026-11-30")]


def test_the_statements_for_a_database_that_divides_tables_differ_only_in_what_is_told():
    here = table_statements(id_type="BLOB", ending=" WITHOUT ROWID")
    there = table_statements(id_type="UUID", ending=" PARTITION BY HASH (student)")
    told = (one.replace("BLOB", "UUID").replace(" WITHOUT ROWID", " PARTITION BY HASH (student)") for one in here)
    assert tuple(told) == there
