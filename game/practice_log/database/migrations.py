"""How the log's tables came about, step by step: each migration in one transaction with its record.

The list is only ever added to. A file that holds a migration unknown here was written by a newer program and is left
alone. In `tests/practice_log` stands a log of each earlier version, which must open and keep what it holds.
"""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime

from game.errors import LogError
from game.practice_log.database.schema import STEPS, append_only_triggers
from game.practice_log.rows.row_values import utc_text


@dataclass(frozen=True, slots=True)
class Migration:
    """A named step: SQL statements in order."""

    name: str
    script: str


MIGRATIONS = tuple(Migration(name, tables + append_only_triggers(tables)) for name, tables in STEPS)
_RECORD = """
CREATE TABLE IF NOT EXISTS migration (
    migration INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    applied_utc TEXT NOT NULL
)
"""


def migrate(connection: sqlite3.Connection, *, now_utc: datetime, migrations: Sequence[Migration] = MIGRATIONS) -> None:
    """Bring a log up to date. A step that fails leaves the log as it was before that step.

    `now_utc` goes into the record. Raises `LogError` for a log that a newer program has written.
    """
    if _lacking(connection, migrations):
        for migration in migrations:
            with transaction(connection):
                # Asked again in the transaction: another program may just have done it.
                if migration in _lacking(connection, migrations):
                    _apply(connection, migration, now_utc)


def applied(connection: sqlite3.Connection) -> tuple[str, ...]:
    """The names of the migrations a log has gone through, in order."""
    known = connection.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'migration'").fetchone()
    rows = connection.execute("SELECT name FROM migration ORDER BY migration") if known else ()
    return tuple(name for (name,) in rows)


@contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """All or nothing of what is written in it; the write lock is taken at once. Needs a connection in autocommit."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        # Some errors (a full disk) end the transaction by themselves.
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _lacking(connection: sqlite3.Connection, migrations: Sequence[Migration]) -> list[Migration]:
    done = applied(connection)
    unknown = [name for name in done if name not in {migration.name for migration in migrations}]
    if unknown:
        raise LogError("log.by_newer", unknown=tuple(map(repr, unknown)))
    return [migration for migration in migrations if migration.name not in done]


def _apply(connection: sqlite3.Connection, migration: Migration, now_utc: datetime) -> None:
    connection.execute(_RECORD)
    for statement in _statements(migration.script):
        connection.execute(statement)
    connection.execute("INSERT INTO migration (name, applied_utc) VALUES (?, ?)", (migration.name, utc_text(now_utc)))


def _statements(script: str) -> Iterator[str]:
    """The statements of a script one by one: `executescript` would commit the transaction around it."""
    statement = ""
    for line in script.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""
    if statement.strip():
        yield statement


def columns_of(connection: sqlite3.Connection, table: str) -> list[str]:
    """The names of a table's columns, in their order."""
    return [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
