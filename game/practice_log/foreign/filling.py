"""Rows from elsewhere into an empty log of our own: what takes the place of a file that is never opened here."""

import sqlite3
from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path

from game.errors import LogError
from game.practice_log.database.migrations import MIGRATIONS, Migration, columns_of, migrate, transaction
from game.practice_log.database.store import APPLICATION_ID
from game.practice_log.foreign.row_lines import FileHead, Row, RowLine, TableHead

_PAGES_IN_MEMORY_KB = 32_000


def log_of_lines(blocks: Iterable[list[RowLine]], *, now_utc: datetime) -> tuple[sqlite3.Connection, FileHead]:
    """A new log of our own that holds the rows of these lines, brought up to date, and what the file was. It lies in a
    temporary file that nobody sees, of which some is in memory. Close it after use.

    Raises `LogError`, `sqlite3.Error`, `OverflowError` or `ValueError` for rows that make no sense together.
    """
    connection = sqlite3.connect("", isolation_level=None, check_same_thread=False)
    try:
        connection.execute(f"PRAGMA cache_size = -{_PAGES_IN_MEMORY_KB}")
        return connection, fill(connection, blocks, now_utc=now_utc)
    except BaseException:
        connection.close()
        raise


def fill(connection: sqlite3.Connection, blocks: Iterable[list[RowLine]], *, now_utc: datetime) -> FileHead:
    """Make a log of an empty file: its tables as they were when the rows were written, the rows, and then whatever
    has changed since. Raises as `log_of_lines` does.
    """
    lines = iter(blocks)
    head, rest = _head(lines)
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute("PRAGMA foreign_keys = OFF")
    migrate(connection, now_utc=now_utc, migrations=_up_to(head.migrations))
    with transaction(connection):
        _insert(connection, rest, lines)
    if connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
        raise ValueError("rows refer to others that are not there")
    migrate(connection, now_utc=now_utc)
    connection.execute("PRAGMA foreign_keys = ON")
    return head


def write_log(path: Path, blocks: Iterable[list[RowLine]], *, now_utc: datetime) -> FileHead:
    """A new log in a file that is not there yet, all of it in that one file. Raises as `log_of_lines` does."""
    connection = sqlite3.connect(path, isolation_level=None)
    try:
        # Nobody looks at it before it is whole.
        connection.execute("PRAGMA synchronous = OFF")
        head = fill(connection, blocks, now_utc=now_utc)
    finally:
        connection.close()
    return head


def _head(lines: Iterator[list[RowLine]]) -> tuple[FileHead, list[RowLine]]:
    first = next((block for block in lines if block), [])
    if not first or not isinstance(first[0], FileHead):
        raise ValueError("rows of no file")
    return first[0], first[1:]


def _up_to(done: list[str]) -> tuple[Migration, ...]:
    known = [migration.name for migration in MIGRATIONS]
    if done != known[: len(done)]:
        raise LogError("log.by_newer", unknown=tuple(map(repr, done)))
    return MIGRATIONS[: len(done)]


def _insert(connection: sqlite3.Connection, rest: list[RowLine], lines: Iterator[list[RowLine]]) -> None:
    statement, waiting = "", list[Row]()
    for block in _blocks(rest, lines):
        for line in block:
            if isinstance(line, list):
                waiting.append(line)
            elif isinstance(line, TableHead):
                _put(connection, statement, waiting)
                statement = _statement(connection, line)
            else:
                raise ValueError("a second file among the rows")  # noqa: TRY004 - bad input, whatever its type
        _put(connection, statement, waiting)


def _blocks(rest: list[RowLine], lines: Iterator[list[RowLine]]) -> Iterator[list[RowLine]]:
    yield rest
    yield from lines


def _put(connection: sqlite3.Connection, statement: str, rows: list[Row]) -> None:
    """The rows that wait, into their table."""
    if rows and not statement:
        raise ValueError("rows of no table")
    if rows:
        connection.executemany(statement, rows)
    rows.clear()


def _statement(connection: sqlite3.Connection, head: TableHead) -> str:
    """Only names of tables and columns that are ours go into a statement."""
    there = set(columns_of(connection, head.table)) if head.table.isidentifier() else set()
    if not head.columns or not set(head.columns) <= there or len(set(head.columns)) != len(head.columns):
        raise ValueError(f"columns of {head.table} that are none")
    marks = ", ".join("?" * len(head.columns))
    return f"INSERT INTO {head.table} ({', '.join(head.columns)}) VALUES ({marks})"
