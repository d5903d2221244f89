"""A SQLite file from elsewhere, opened with care, in the child that reads it and nowhere else.

Nothing of its schema is trusted (SQLite, "Defense Against The Dark Arts"): it is opened to be read only, without
extensions, and asked for columns of real tables by their names. Views, triggers and virtual tables are never touched,
so that a view without end is not begun.
"""

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from functools import partial
from pathlib import Path

from game.errors import LogError
from game.message import message
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.database.soundness import is_cut_off, journal_is_foreign, page_bytes_of
from game.practice_log.database.store import APPLICATION_ID
from game.practice_log.foreign.schema_pages import put_own_schema

LONGEST_VALUE = 4_000_000
"""Bytes in one text, and in one row."""

_BUSY_S = 2.0
_MOST_MIGRATIONS = 1000


@contextmanager
def foreign_log(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection to read a log from elsewhere by. The file and its folder stay as they are.

    What stands in a journal beside it is seen too. Raises `LogError` for one that is cut off, `sqlite3.Error` or
    `OSError` where it cannot be opened.
    """
    if page_bytes_of(path) and is_cut_off(path):
        raise LogError("backup.damaged", file=str(path), fault=message("backup.cut_off"))
    with _place_to_read(path) as (file, immutable), closing(_opened(file, immutable=immutable)) as connection:
        yield connection


@contextmanager
def damaged_log(path: Path, *, own_schema: bool = False) -> Iterator[sqlite3.Connection]:
    """As `foreign_log`, of a log that is damaged: a schema that makes no sense in part is read as far as it does, and a
    journal that does not belong to the file is left alone. Text that is none is an error. With `own_schema` its tables
    are presumed to begin where those of a log of ours do; of a journal nothing is read then.
    """
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "log.sqlite"
        shutil.copyfile(path, copy)
        if page_bytes := page_bytes_of(copy):
            # Of a page that is there in part, what is gone would be taken for zeros.
            os.truncate(copy, copy.stat().st_size // page_bytes * page_bytes)
        journal = path.with_name(f"{path.name}-wal")
        if own_schema:
            put_own_schema(copy)
        elif journal.is_file() and not journal_is_foreign(path):
            shutil.copyfile(journal, f"{copy}-wal")
        with closing(_opened(copy, immutable=False)) as connection:
            connection.text_factory = str
            connection.execute("PRAGMA writable_schema = ON")
            yield connection


@contextmanager
def _place_to_read(path: Path) -> Iterator[tuple[Path, bool]]:
    """The file to open, and whether nobody can change it. A log whose folder cannot be written is read as it lies
    there; with a journal beside it, in a copy, for SQLite itself must write beside a journal to read it.
    """
    journal = path.with_name(f"{path.name}-wal")
    if os.access(path.parent, os.W_OK):
        yield path, False
    elif not journal.is_file() or not journal.stat().st_size:
        yield path, True
    else:
        with tempfile.TemporaryDirectory() as folder:
            for file in (path, journal):
                shutil.copyfile(file, Path(folder) / file.name)
            yield Path(folder) / path.name, False


def _opened(path: Path, *, immutable: bool) -> sqlite3.Connection:
    address = f"{path.resolve().as_uri()}?mode=ro{'&immutable=1' if immutable else ''}"
    connection = sqlite3.connect(address, uri=True, timeout=_BUSY_S, isolation_level=None)
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, LONGEST_VALUE)
    connection.text_factory = partial(str, encoding="utf-8", errors="replace")
    for setting in ("trusted_schema = OFF", "cell_size_check = ON", "query_only = ON", "mmap_size = 0"):
        connection.execute(f"PRAGMA {setting}")
    return connection


def columns_there(connection: sqlite3.Connection, table: str) -> list[str]:
    """The columns that a real table of this name has in the file; none where there is no such table, or it is a view, a
    virtual table, or made of something else. Computed columns do not count.
    """
    found = connection.execute(
        "SELECT type, rootpage, sql FROM sqlite_master WHERE name = ? AND type IN ('table', 'view')", (table,)
    ).fetchall()
    if len(found) != 1:
        return []
    kind, page, sql = found[0]
    if kind != "table" or not page or not str(sql).upper().startswith("CREATE TABLE"):
        return []
    return [row[1] for row in connection.execute(f"PRAGMA table_xinfo({table})") if row[6] == 0]


def migrations_there(connection: sqlite3.Connection, name: str) -> list[str]:
    """The migrations that a log went through. Raises `LogError` for a file that is none of ours, or of a newer program;
    `name` is what to call it.
    """
    (found,) = connection.execute("PRAGMA application_id").fetchone()
    if found != APPLICATION_ID or not {"migration", "name"} <= set(columns_there(connection, "migration")):
        raise LogError("backup.not_ours", file=name)
    rows = connection.execute("SELECT name FROM migration ORDER BY migration LIMIT ?", (_MOST_MIGRATIONS,))
    done = [str(one) for (one,) in rows]
    known = [migration.name for migration in MIGRATIONS]
    if not set(done) <= set(known):
        raise LogError("backup.by_newer", file=name)
    if done != known[: len(done)]:
        raise LogError("backup.not_ours", file=name)
    return done
