"""What can be read of a damaged log, as lines. Runs in the child with limits.

Every row of the known tables that can be read goes into a log of our own, without its rules; what makes no sense any
more without the rows that are gone is then taken out (`salvage_tidying`), so that nothing is there in part but takes,
which end early.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path

from game.errors import LogError
from game.message import message
from game.practice_log.database.known_tables import empty_log, known_columns
from game.practice_log.database.migrations import MIGRATIONS, columns_of
from game.practice_log.foreign.foreign_log import columns_there, damaged_log
from game.practice_log.foreign.indexed_rows import add_indexed_rows
from game.practice_log.foreign.readable_rows import Gap, TableRows
from game.practice_log.foreign.row_lines import FileHead, TableHead, row_lines
from game.practice_log.foreign.salvage_tidying import tidy
from game.text.clean_text import cleaned

_AT_ONCE = 500
_CAME_WITH = (
    ("played", "sure", "notes heard unsurely"),
    ("entry", "entry", "entries"),
    ("revised", "revised", "revised"),
    ("coach_event", "coach_event", "coach"),
    ("name_given", "name_given", "names given"),
)
"""Which migration brought a column of a table: where the record of them cannot be read, the tables tell."""

_NOT_SALVAGED = frozenset({"taken_in"})


def salvaged_rows(path: Path) -> Iterator[bytes]:
    """The rows of a damaged log that make sense. Where it does not even tell its tables, those of a log of ours are
    looked for in it. Raises `LogError` where nothing can be read.
    """
    lines = _salvaged(path, own_schema=False)
    try:
        first = next(lines)
    except LogError as refused:
        if refused.message.key != "salvage.nothing":
            raise
        try:
            yield from _salvaged(path, own_schema=True)
        except LogError:
            raise refused from None
        return
    yield first
    yield from lines


def _salvaged(path: Path, *, own_schema: bool) -> Iterator[bytes]:
    try:
        with damaged_log(path, own_schema=own_schema) as connection:
            yield from _lines(connection, path)
    except (sqlite3.Error, OSError) as error:
        raise LogError("salvage.nothing", file=path, fault=cleaned(str(error), 120)) from error


def _lines(connection: sqlite3.Connection, path: Path) -> Iterator[bytes]:
    migrations = _migrations(connection, path)
    with closing(empty_log(len(migrations), without_rules=True)) as staged:
        gaps = {table: _stage(connection, staged, table) for table in known_columns(len(migrations))}
        left = tidy(staged, gaps)
        if not left.takes:
            raise LogError("salvage.nothing", file=path, fault=message("salvage.no_take"))
        yield row_lines([FileHead(migrations=migrations, takes_lost=left.takes_lost, takes_in_part=left.takes_in_part)])
        for table, columns in known_columns(len(migrations)).items():
            yield row_lines([TableHead(table=table, columns=list(columns))])
            rows = staged.execute(f"SELECT {', '.join(columns)} FROM {table}")
            while some := rows.fetchmany(_AT_ONCE):
                yield row_lines(some)


def _migrations(connection: sqlite3.Connection, path: Path) -> list[str]:
    """The migrations that the log went through, or must have gone through. Raises `LogError` for a newer program's."""
    known = [migration.name for migration in MIGRATIONS]
    done: list[str] = []
    with suppress(sqlite3.Error):
        for (name,) in connection.execute("SELECT name FROM migration ORDER BY migration LIMIT 1000"):
            done.append(str(name))
    if not set(done) <= set(known):
        raise LogError("backup.by_newer", file=path)
    told = next((name for table, column, name in _CAME_WITH if column in columns_there(connection, table)), known[0])
    return known[: max(len(done), known.index(told) + 1)]


def _stage(connection: sqlite3.Connection, staged: sqlite3.Connection, table: str) -> list[Gap]:
    """Take over what can be read of a table; the places that could not."""
    ours = columns_of(staged, table)
    columns = [column for column in columns_there(connection, table) if column in ours]
    key = _key(staged, table)
    if table in _NOT_SALVAGED or not set(key) <= set(columns):
        return [] if table in _NOT_SALVAGED else [Gap((), None)]
    columns = [*key, *(column for column in columns if column not in key)]
    asked = TableRows(table, columns, key)
    marks = ", ".join("?" * len(columns))
    staged.executemany(f"INSERT OR IGNORE INTO {table} ({', '.join(columns)}) VALUES ({marks})", asked.rows(connection))
    if asked.gaps and key == [table]:
        add_indexed_rows(connection, staged, table)
    return asked.gaps


def _key(staged: sqlite3.Connection, table: str) -> list[str]:
    parts = [(row[5], row[1]) for row in staged.execute(f"PRAGMA table_info({table})") if row[5]]
    return [name for _, name in sorted(parts)]
