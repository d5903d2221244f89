"""A copy of the whole log in one file, by SQLite's own backup, which a game that is running does not disturb.

A copy is tried before it counts: `PRAGMA integrity_check`, our mark in the header, and migrations that are known.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from game.errors import LogError, reason_of
from game.message import message
from game.practice_log.database.migrations import MIGRATIONS, applied
from game.practice_log.database.permissions import OWNER_ONLY, share_where_meant
from game.practice_log.database.store import APPLICATION_ID, BUSY_S


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
        with refused("backup.cannot_be_copied", copy):
            copy_whole(log, draft)
            takes = checked_take_count(draft)
            share_where_meant(draft)
            draft.replace(copy)
    finally:
        draft.unlink(missing_ok=True)
    return takes


def checked_take_count(path: Path) -> int:
    """How many takes a log holds that is sound and ours. Raises `LogError` when it is not."""
    if path.is_symlink() and not path.exists():
        raise LogError("transfer.link_to_nothing", file=path)
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
        raise LogError("backup.no_log_or_damaged", file=path, fault=reason_of(error)) from error


def copy_whole(log: Path, copy: Path) -> None:
    """Copy a log into a file for its owner alone, and nothing of it into a journal beside. What was there goes.

    Raises `sqlite3.Error` or `OSError`.
    """
    copy.unlink(missing_ok=True)
    copy.touch(mode=OWNER_ONLY)
    # All pages in one step: it is the log of one moment, however long that takes.
    with closing(_read_only(log)) as old, closing(sqlite3.connect(copy, timeout=BUSY_S)) as new:
        old.backup(new)
        new.execute("PRAGMA journal_mode = DELETE")


def _read_only(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True, timeout=BUSY_S)
    # A file from elsewhere may hold triggers and views: nothing of them is to be trusted (SQLite, "Defense Against
    # The Dark Arts").
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    return connection


@contextmanager
def refused(key: str, file: Path) -> Iterator[None]:
    """What a disk or database refuses is told by this sentence, with the file and the reason."""
    try:
        yield
    except (sqlite3.Error, OSError) as error:
        raise LogError(message(key, file=file, reason=reason_of(error))) from error
