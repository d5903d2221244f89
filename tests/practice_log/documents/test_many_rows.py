"""Many rows stand in their table as one by one."""

import sqlite3
from contextlib import closing

import pytest

from game.practice_log.documents.many_rows import ROWS_AT_ONCE, put_rows


def put(rows):
    with closing(sqlite3.connect(":memory:")) as connection:
        connection.execute("CREATE TABLE thing (number INTEGER PRIMARY KEY, word TEXT)")
        put_rows(connection, "INSERT INTO thing (number, word) VALUES (?, ?)", iter(rows))
        return connection.execute("SELECT number, word FROM thing ORDER BY number").fetchall()


@pytest.mark.parametrize("count", [0, 1, ROWS_AT_ONCE - 1, ROWS_AT_ONCE, ROWS_AT_ONCE + 1, 3 * ROWS_AT_ONCE, 1000])
def test_however_many_there_are_each_is_put_once(count):
    rows = [(number, f"word {number}" if number % 3 else None) for number in range(count)]
    assert put(rows) == rows


def test_what_is_there_already_is_refused():
    with pytest.raises(sqlite3.IntegrityError):
        put([(number % 50, "twice") for number in range(51)])
