"""Which tables and columns a log of this program has: whatever else a file from elsewhere holds is left behind."""

import sqlite3
from collections.abc import Mapping
from contextlib import closing
from datetime import UTC, datetime
from functools import cache
from types import MappingProxyType

from game.practice_log.database.migrations import MIGRATIONS, columns_of, migrate

_LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)
_NOT_CARRIED = frozenset({"migration"})


@cache
def known_columns(migrations: int = len(MIGRATIONS)) -> Mapping[str, tuple[str, ...]]:
    """The columns of each table by its name, after so many migrations, in the order in which the tables came about:
    each refers only to tables before it. The record of migrations is not among them, for each file has its own.
    """
    with closing(empty_log(migrations)) as connection:
        return MappingProxyType(
            {table: tuple(columns_of(connection, table)) for table in _tables(connection) if table not in _NOT_CARRIED}
        )


@cache
def known_objects() -> frozenset[tuple[str, str, str]]:
    """Everything that the schema of a log of ours may hold: the type, the name and the SQL of each table, index and
    trigger, in any of its versions.
    """
    found: set[tuple[str, str, str]] = set()
    # One log that grows: to make one of each version anew takes five times as long, at every start.
    with closing(empty_log(0)) as connection:
        for count in range(1, len(MIGRATIONS) + 1):
            migrate(connection, now_utc=_LONG_AGO, migrations=MIGRATIONS[:count])
            found.update(objects_in(connection))
    return frozenset(found)


def objects_in(connection: sqlite3.Connection) -> set[tuple[str, str, str]]:
    """The type, name and SQL of everything in a schema but what SQLite itself keeps there."""
    rows = connection.execute("SELECT type, name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_%'")
    return {(str(kind), str(name), str(sql)) for kind, name, sql in rows}


def empty_log(migrations: int = len(MIGRATIONS), *, without_rules: bool = False) -> sqlite3.Connection:
    """A log without a row, after so many migrations, in a temporary file that nobody sees. `without_rules` its rows may
    be changed, and may refer to nothing.
    """
    connection = sqlite3.connect("", isolation_level=None)
    migrate(connection, now_utc=_LONG_AGO, migrations=MIGRATIONS[:migrations])
    if without_rules:
        connection.execute("PRAGMA foreign_keys = OFF")
        for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            connection.execute(f"DROP TRIGGER {name}")
    return connection


def _tables(connection: sqlite3.Connection) -> list[str]:
    rows = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    return [name for (name,) in rows]
