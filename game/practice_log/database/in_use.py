"""That a log is being played into, so that nobody puts another in its place meanwhile.

A small file beside the log is locked by SQLite's own locks (shared by every game that plays into the log, exclusive for
whoever replaces it), which work alike on all systems and end with their process, however it ends: the file that stays
behind means nothing.
"""

import sqlite3
import weakref
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from game.errors import LogError, reason_of

_ENDING = ".in-use"
# A log is replaced in moments: a game that begins just then waits for it.
_WAIT_S = 2.0


class InUse:
    """The log in `log` is in use from now on, until `end`, or until this object or the process is gone.

    Where the folder cannot be written, or a disk knows no locks, everything goes on without.
    """

    def __init__(self, log: Path) -> None:
        self._ends: weakref.finalize[[], InUse] | None = None
        try:
            connection = _opened(log, _WAIT_S)
        except (sqlite3.Error, OSError):
            return
        self._ends = weakref.finalize(self, connection.close)
        try:
            connection.execute("BEGIN")
            # Reading is what takes the shared lock; the transaction keeps it.
            connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        except sqlite3.Error:
            self.end()

    def end(self) -> None:
        """It is in use no longer."""
        if self._ends is not None:
            self._ends()


@contextmanager
def not_in_use(log: Path) -> Iterator[None]:
    """Keep games off the log for a moment. Raises `LogError` when one plays into it now, or nothing can be locked."""
    try:
        connection = _opened(log, 0.0)
    except (sqlite3.Error, OSError) as error:
        raise _refusal(log, error) from error
    with closing(connection):
        try:
            connection.execute("BEGIN EXCLUSIVE")
        except sqlite3.Error as error:
            raise _refusal(log, error) from error
        yield


def _opened(log: Path, wait_s: float) -> sqlite3.Connection:
    log.parent.mkdir(parents=True, exist_ok=True)
    return sqlite3.connect(_beside(log), timeout=wait_s, isolation_level=None, check_same_thread=False)


def _beside(log: Path) -> Path:
    return log.with_name(log.name + _ENDING)


def _refusal(log: Path, error: sqlite3.Error | OSError) -> LogError:
    code = error.sqlite_errorcode & 0xFF if isinstance(error, sqlite3.Error) else None
    if code == sqlite3.SQLITE_BUSY:
        return LogError("log.in_use", file=log)
    if code == sqlite3.SQLITE_NOTADB:
        return LogError("log.lock_damaged", file=_beside(log))
    return LogError("log.folder_not_writable", folder=log.parent, fault=reason_of(error))
