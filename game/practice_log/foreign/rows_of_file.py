"""The rows of a file from elsewhere, a log or an export, as lines. Runs in the child with limits."""

import sqlite3
import zipfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from game.errors import LogError, reason_of
from game.practice_log.database.known_tables import known_columns
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.foreign.export_contents import export_faults
from game.practice_log.foreign.export_members import export_rows
from game.practice_log.foreign.foreign_log import columns_there, foreign_log, migrations_there
from game.practice_log.foreign.plain_files import is_packed
from game.practice_log.foreign.row_lines import FileHead, TableHead, row_lines
from game.text.clean_text import cleaned

MOST_ROWS = 20_000_000
_AT_ONCE = 500


def rows_of_file(path: Path) -> Iterator[bytes]:
    """The rows of an export or a log. Raises `LogError` in one sentence for a file that cannot be read."""
    if is_packed(path):
        yield from _said_of_export(path)
    else:
        yield from _said_of_log(path)


def _said_of_log(path: Path) -> Iterator[bytes]:
    with log_faults(path), foreign_log(path) as connection:
        yield from _log_rows(connection, str(path))


@contextmanager
def log_faults(path: Path) -> Iterator[None]:
    """What SQLite and the disk say of a log that cannot be read, as `LogError`."""
    try:
        yield
    except sqlite3.Error as error:
        raise LogError("backup.no_log_or_damaged", file=str(path), fault=reason_of(error)) from error
    except OSError as error:
        raise LogError("transfer.cannot_be_opened", file=str(path), reason=reason_of(error)) from error


def is_of_today(connection: sqlite3.Connection, name: str) -> bool:
    """Whether a log has all tables of today, sound and with all their columns. Raises `LogError` for a file that is
    none of ours, of a newer program or damaged.
    """
    if len(migrations_there(connection, name)) < len(MIGRATIONS):
        return False
    _refuse_damaged(connection, name)
    return all(set(columns) <= set(columns_there(connection, table)) for table, columns in known_columns().items())


def _log_rows(connection: sqlite3.Connection, name: str) -> Iterator[bytes]:
    migrations = migrations_there(connection, name)
    # All of it is of one moment, though a game may be writing.
    connection.execute("BEGIN")
    _refuse_damaged(connection, name)
    yield row_lines([FileHead(migrations=migrations)])
    room = MOST_ROWS
    for table, ours in known_columns(len(migrations)).items():
        columns = [column for column in columns_there(connection, table) if column in ours]
        if not columns:
            raise LogError("transfer.table_missing", file=name, table=table)
        yield row_lines([TableHead(table=table, columns=columns)])
        rows = connection.execute(f"SELECT {', '.join(columns)} FROM {table} LIMIT ?", (room + 1,))
        while some := rows.fetchmany(_AT_ONCE):
            room -= len(some)
            if room < 0:
                raise LogError("transfer.too_many_rows", file=name, limit=MOST_ROWS)
            yield row_lines(some)


def _refuse_damaged(connection: sqlite3.Connection, name: str) -> None:
    (word,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
    if word != "ok":
        raise LogError("backup.damaged", file=name, fault=cleaned(str(word), 120))


def _said_of_export(path: Path) -> Iterator[bytes]:
    with export_faults(path), closing(zipfile.ZipFile(path)) as archive:
        yield from export_rows(archive, path.name, most_rows=MOST_ROWS)
