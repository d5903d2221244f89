"""Opening a log: a file of SQLite 3 in write-ahead mode, brought up to date, or a clear refusal.

Committed rows survive the death of the program in write-ahead mode, and with `synchronous=FULL` the loss of power
too (SQLite, "Write-Ahead Logging" and "PRAGMA synchronous").
"""

import sqlite3
from datetime import datetime
from pathlib import Path

from game.errors import LogError
from game.practice_log.database.migrations import migrate
from game.practice_log.database.permissions import make_private

APPLICATION_ID = 0x486F6D65
"""Ours in the file's header (SQLite, "Database File Format", offset 68): "Home" in ASCII."""

BUSY_S = 1.0

Connection = sqlite3.Connection
"""A connection to a log, for those who only hand it on."""


def open_store(path: Path | None, *, now_utc: datetime, busy_s: float = BUSY_S) -> sqlite3.Connection:
    """A connection to the log in `path`, made and brought up to date where needed; None is a log in memory.

    It is in autocommit: write within `transaction`. `busy_s` is how long to wait for another program's lock. Raises
    `LogError` for a file that is no practice log or too new, and `sqlite3.Error` or `OSError` where it
    cannot be opened now.
    """
    if path is not None:
        path.parent.mkdir(parents=True, exist_ok=True)
        make_private(path)
    connection = sqlite3.connect(path or ":memory:", timeout=busy_s, isolation_level=None, check_same_thread=False)
    try:
        _prepare(connection, path)
        migrate(connection, now_utc=now_utc)
    except BaseException as error:
        connection.close()
        if isinstance(error, sqlite3.DatabaseError) and error.sqlite_errorcode == sqlite3.SQLITE_NOTADB:
            raise _not_ours(path) from error
        raise
    return connection


def _prepare(connection: sqlite3.Connection, path: Path | None) -> None:
    (found,) = connection.execute("PRAGMA application_id").fetchone()
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    if found != APPLICATION_ID:
        if tables or found:
            raise _not_ours(path)
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA foreign_keys = ON")


def _not_ours(path: Path | None) -> LogError:
    return LogError("log.not_a_log", file=path)
