"""A back-up in the place of the log: its rows make a new log beside the old one, which is swapped in at the end.

Nothing is opened but by the child with limits, and whatever a file holds beside the rows of a log is left behind. Until
the last step, which is one for the system, the log that was there is whole, whenever the program or the computer stops.
"""

import os
import shutil
import sqlite3
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path

from game.errors import LogError
from game.message import message
from game.practice_log.back_ups.automatic import forget_longer_back_ups
from game.practice_log.back_ups.backup import checked_take_count, copy_whole, refused
from game.practice_log.database.in_use import not_in_use
from game.practice_log.database.own_device import new_device
from game.practice_log.database.own_player import own_player
from game.practice_log.database.permissions import OWNER_ONLY
from game.practice_log.database.soundness import damage_of
from game.practice_log.database.store import BUSY_S
from game.practice_log.foreign.plain_files import is_packed
from game.practice_log.foreign.read_export import write_copy
from game.practice_log.rows.one_player import uuids_of_owner
from game.practice_log.transfer.erased import erased_mark

_JOURNALS = ("-wal", "-shm", "-journal")
_DRAFT = ".new"
DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
"""What SQLite says of a file that is damaged, and no log, or not one any more."""


def restore(copy: Path, log: Path, *, now_utc: datetime) -> tuple[int, Path | None]:
    """Put a back-up in the place of the log. Returns how many takes it holds, and where the log that was there is kept
    (None when there was none).

    Raises `LogError`: a file that is no sound log of this or an older program, or a log that a game plays into or that
    another program holds: what that game knows would be of the old log.
    """
    if not copy.exists() and not copy.is_symlink():
        raise LogError("backup.no_such_file", file=copy)
    if is_packed(copy):
        raise LogError("backup.not_ours", file=copy)
    if log.exists() and copy.samefile(log):
        raise LogError("backup.log_itself", file=copy)
    with not_in_use(log):
        draft = log.with_name(log.name + _DRAFT)
        try:
            with refused("backup.log_not_replaced", log):
                make_empty_log(draft)
                write_copy(copy, draft, now_utc=now_utc)
            return swap_in(draft, log, now_utc=now_utc, damaged=damage_of(log) is not None)
        finally:
            remove_log(draft)


def swap_in(draft: Path, log: Path, *, now_utc: datetime, damaged: bool = False) -> tuple[int, Path | None]:
    """Put a log that was made beside the log in its place, checked first. It tells who plays from now on, on a device
    of its own: the one of before has counted further than this log knows. Nobody may be using either. Of a log that is
    damaged the very bytes are kept. Returns as `restore` does. Raises `LogError`; then the log is as it was.
    """
    takes = checked_take_count(draft)
    _refuse_erased(draft, log)
    kept = None
    if log.exists():
        word = "damaged" if damaged else "before"
        kept = log.with_name(f"{log.stem}-{word}-{now_utc:%Y%m%dT%H%M%S%f}{log.suffix}")
        with refused("backup.log_not_kept", kept):
            lay_copy_aside(log, kept) if damaged else _keep(log, kept)
    with refused("backup.log_not_replaced", log):
        _on_disk(draft)
        # What lies in a journal would be taken for a part of the new log.
        for journal in _JOURNALS:
            log.with_name(log.name + journal).unlink(missing_ok=True)
        draft.replace(log)
        _on_disk(log.parent)
    new_device(log.parent)
    own_player(log)
    forget_longer_back_ups(log)
    return takes, kept


def _refuse_erased(draft: Path, log: Path) -> None:
    """Whoever was erased here does not come back by a back-up."""
    with closing(sqlite3.connect(draft)) as connection:
        marks = [erased_mark(log.parent, uuid) for uuid in uuids_of_owner(connection)]
    for mark in filter(None, marks):
        raise LogError("backup.player_erased", file=mark)


def _keep(log: Path, kept: Path) -> None:
    """A copy of the present log in one file, and nothing of it in its journal any more; of one that is damaged, a copy
    of its bytes, with those of its journals.
    """
    try:
        copy_whole(log, kept)
        _empty_journal(log)
    except sqlite3.DatabaseError as error:
        remove_log(kept)
        if error.sqlite_errorcode & 0xFF not in DAMAGED:
            raise
        lay_copy_aside(log, kept)


def lay_copy_aside(log: Path, kept: Path) -> None:
    """Copy the bytes of a log that is damaged, and of what lies beside it, under another name; what is no file at all
    is moved there. Raises `OSError`.
    """
    if not log.is_file():
        log.rename(kept)
        return
    for ending in ("", "-wal", "-journal"):
        file = log.with_name(log.name + ending)
        if file.exists():
            aside = kept.with_name(kept.name + ending)
            shutil.copyfile(file, aside)
            aside.chmod(OWNER_ONLY)
            _on_disk(aside)


def _empty_journal(log: Path) -> None:
    """Everything into the file itself, so that the journal can go at any moment."""
    with closing(sqlite3.connect(log, timeout=BUSY_S)) as connection:
        busy = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
    if busy:
        raise LogError("backup.log_not_kept", file=log, reason=message("system.held_elsewhere"))


def make_empty_log(draft: Path) -> None:
    """A file for a new log, and nothing beside it. Raises `OSError`."""
    draft.parent.mkdir(parents=True, exist_ok=True)
    remove_log(draft)
    draft.touch(mode=OWNER_ONLY)


def remove_log(draft: Path) -> None:
    """A log is no longer wanted, and what lies beside it neither."""
    for ending in ("", *_JOURNALS):
        draft.with_name(draft.name + ending).unlink(missing_ok=True)


def _on_disk(path: Path) -> None:
    """Wait until a file or a folder is on the disk itself, where the system can tell (a folder: not on Windows)."""
    with suppress(OSError):
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
