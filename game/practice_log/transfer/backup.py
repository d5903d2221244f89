"""A copy of the whole log in one file, and back, by SQLite's own backup, which a game that is running does not disturb.

A copy is tried before it counts: `PRAGMA integrity_check`, our mark in the header, and migrations that are known.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path

from game.errors import LogError
from game.message import message
from game.practice_log.database.in_use import not_in_use
from game.practice_log.database.migrations import MIGRATIONS, applied
from game.practice_log.database.store import APPLICATION_ID, BUSY_S, open_store

_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


def back_up(log: Path, copy: Path) -> int:
    """Copy the log into one new file, and return how many takes it holds.

    Raises `LogError`: no log, a file that is there already, a disk that cannot be written, a copy that is not sound.
    """
    if not log.exists():
        raise LogError("log.none_yet", folder=log.parent)
    if copy.exists():
        raise LogError("backup.already_there", file=copy)
    draft = copy.with_name(f"{copy.name}.part")
    try:
        with _refused("backup.cannot_be_copied", copy):
            draft.unlink(missing_ok=True)
            _copy(log, draft)
            _in_one_file(draft)
            takes = checked_take_count(draft)
            draft.replace(copy)
    finally:
        draft.unlink(missing_ok=True)
    return takes


def restore(copy: Path, log: Path, *, now_utc: datetime) -> tuple[int, Path | None]:
    """Put a back-up in the place of the log. Returns how many takes it holds, and where the log that was there is kept
    (None when there was none).

    Raises `LogError`: a file that is no sound log of this or an older program, or a log that a game plays into or that
    another program holds: what that game knows would be of the old log.
    """
    takes = checked_take_count(copy)
    with not_in_use(log):
        return takes, _replaced(copy, log, now_utc)


def _replaced(copy: Path, log: Path, now_utc: datetime) -> Path | None:
    """Put the copy in the place of the log; where the log that was there is kept."""
    kept = None
    if log.exists():
        if copy.samefile(log):
            raise LogError("backup.log_itself", file=copy)
        kept = log.with_name(f"{log.stem}-before-{now_utc:%Y%m%dT%H%M%S%f}{log.suffix}")
        with _refused("backup.log_not_kept", kept):
            _keep(log, kept)
    with _refused("backup.log_not_replaced", log):
        log.parent.mkdir(parents=True, exist_ok=True)
        _copy(copy, log)
        open_store(log, now_utc=now_utc).close()
    return kept


def checked_take_count(path: Path) -> int:
    """How many takes a log holds that is sound and ours. Raises `LogError` when it is not."""
    if not path.is_file():
        raise LogError("backup.no_such_file", file=path)
    try:
        with closing(_read_only(path)) as connection:
            (found,) = connection.execute("PRAGMA application_id").fetchone()
            if found != APPLICATION_ID:
                raise LogError("backup.not_ours", file=path)
            (word,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
            if word != "ok":
                raise LogError("backup.damaged", file=path, fault=word)
            unknown = set(applied(connection)) - {migration.name for migration in MIGRATIONS}
            if unknown:
                raise LogError("backup.by_newer", file=path)
            (takes,) = connection.execute("SELECT count(*) FROM take").fetchone()
            return int(takes)
    except sqlite3.Error as error:
        raise LogError("backup.no_log_or_damaged", file=path, fault=error) from error


def _copy(source: Path, target: Path) -> None:
    """All pages in one step: the target has the old content or the new, whatever happens."""
    with closing(_read_only(source)) as old, closing(sqlite3.connect(target, timeout=BUSY_S)) as new:
        old.backup(new)


def _in_one_file(copy: Path) -> None:
    """Nothing of a copy may lie in a journal beside it."""
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")


def _keep(log: Path, kept: Path) -> None:
    """Copy the present log; one that is damaged is moved away as it is, so that a back-up can take its place."""
    try:
        _copy(log, kept)
        _in_one_file(kept)
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode & 0xFF not in _DAMAGED:
            raise
        log.replace(kept)
        for ending in ("-wal", "-shm"):
            log.with_name(log.name + ending).unlink(missing_ok=True)


def _read_only(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True, timeout=BUSY_S)
    # A file from elsewhere may hold triggers and views: nothing of them is to be trusted (SQLite, "Defense Against
    # The Dark Arts").
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    return connection


@contextmanager
def _refused(key: str, file: Path) -> Iterator[None]:
    """What a disk or database refuses is told by this sentence, with the file and the reason."""
    try:
        yield
    except (sqlite3.Error, OSError) as error:
        raise LogError(message(key, file=file, reason=getattr(error, "strerror", None) or error)) from error
