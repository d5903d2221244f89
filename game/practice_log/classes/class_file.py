"""The file of a gathered class (SQLite 3): made, opened, written a student at a time, and thrown away where it was made
by another program version, since all of it can be gathered again.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from uuid import UUID

from game.errors import LogError, reason_of
from game.practice_log.classes.class_schema import CLASS_VERSION, TABLES, table_statements
from game.practice_log.database.migrations import transaction
from game.practice_log.database.permissions import make_private

CLASS_FILE_ID = 0x486F436C
"""In the file's header, as in a log: "HoCl" in ASCII."""

_BUSY_S = 10.0
_ID_AT, _ID_LENGTH = 68, 4


@contextmanager
def open_class(path: Path) -> Iterator[sqlite3.Connection]:
    """The file of a class, for writing, made where it is not there; in autocommit, until the end of the `with`. Raises
    `LogError` for a file that is something else, or that cannot be opened or written.
    """
    _refuse_another_kind(path)
    was_there = path.exists()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        make_private(path)
        with closing(sqlite3.connect(path, timeout=_BUSY_S, isolation_level=None)) as connection:
            _prepare(connection)
            yield connection
    except (sqlite3.Error, OSError) as error:
        reason = reason_of(error)
        if not was_there:
            _remove_empty(path)
        raise LogError("class.cannot_be_written", file=path, reason=reason) from error


@contextmanager
def read_class(path: Path) -> Iterator[sqlite3.Connection]:
    """The file of a class that was gathered before, to be asked alone, until the end of the `with`. Raises `LogError`
    for one that is not there, is something else, was made by another version, or cannot be read.
    """
    if not path.is_file():
        raise LogError("class.no_such_file", file=path)
    _refuse_another_kind(path)
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", timeout=_BUSY_S, uri=True)) as connection:
            (version,) = connection.execute("PRAGMA user_version").fetchone()
            if version > CLASS_VERSION:
                raise LogError("class.by_newer")
            if version < CLASS_VERSION:
                raise LogError("class.by_older", file=path)
            yield connection
    except (sqlite3.Error, OSError) as error:
        reason = reason_of(error)
        raise LogError("class.cannot_be_read", file=path, reason=reason) from error


def is_class_file(path: Path) -> bool:
    """Whether a file is one of a class, by its header. Raises `OSError`."""
    with path.open("rb") as file:
        file.seek(_ID_AT)
        return file.read(_ID_LENGTH) == CLASS_FILE_ID.to_bytes(_ID_LENGTH, "big")


def settle_class(connection: sqlite3.Connection) -> None:
    """Let the database see how much there is of what: it finds the way to the takes of a passage twenty times as fast
    (400 students).
    """
    connection.execute("PRAGMA analysis_limit = 1000")
    connection.execute("ANALYZE")


def forget_student(connection: sqlite3.Connection, student: UUID) -> None:
    """Take out all there is of a student. To be called in a transaction."""
    for table in TABLES:
        connection.execute(f"DELETE FROM {table} WHERE student = ?", (student.bytes,))


def _refuse_another_kind(path: Path) -> None:
    try:
        if path.exists() and path.stat().st_size and not is_class_file(path):
            raise LogError("class.not_a_class", file=path)
    except OSError as error:
        raise LogError("class.cannot_be_written", file=path, reason=reason_of(error)) from error


def _remove_empty(path: Path) -> None:
    """What a full disk left of a file that was to be made: in a folder of exports it would look like one of them."""
    with suppress(OSError):
        if not path.stat().st_size:
            path.unlink()


def _prepare(connection: sqlite3.Connection) -> None:
    # What was erased is not to be found in the free pages of the file.
    connection.execute("PRAGMA secure_delete = ON")
    connection.execute("PRAGMA synchronous = NORMAL")
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    if version > CLASS_VERSION:
        raise LogError("class.by_newer")
    if version == CLASS_VERSION:
        return
    with transaction(connection):
        for (table,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall():
            if table.startswith("sqlite_"):
                continue
            connection.execute(f"DROP TABLE {table}")
        connection.execute(f"PRAGMA application_id = {CLASS_FILE_ID}")
        for statement in table_statements(id_type="BLOB", ending=" WITHOUT ROWID"):
            connection.execute(statement)
        connection.execute(f"PRAGMA user_version = {CLASS_VERSION}")
