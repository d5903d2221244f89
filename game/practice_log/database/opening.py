"""A log that is only asked: our own, or one that came from elsewhere and must stay as it is."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

from game.errors import LogError
from game.practice_log.database.identity import Identity, read_or_make_identity
from game.practice_log.database.store import open_store
from game.practice_log.transfer.read_export import read_log
from game.text.clean_text import cleaned


@contextmanager
def opened_log(path: Path) -> Iterator[sqlite3.Connection]:
    """Our own log, brought up to date where an older program wrote it. Raises `LogError` when it cannot be read."""
    if not path.exists():
        raise LogError("log.none_yet", folder=path.parent)
    try:
        connection = open_store(path, now_utc=datetime.now(UTC))
    except (sqlite3.Error, OSError) as error:
        raise LogError("log.file_unreadable", file=path, fault=error) from error
    with closing(connection):
        yield connection


@contextmanager
def log_in_memory(path: Path) -> Iterator[sqlite3.Connection]:
    """The rows of a log that is not ours to change, in one of our own that nobody else sees, brought up to date there.
    Raises `LogError`.
    """
    with closing(read_log(path)) as copy:
        yield copy


def players_in(connection: sqlite3.Connection) -> tuple[Identity, ...]:
    """The players who have takes in a log, whoever played last first."""
    rows = connection.execute(
        "SELECT uuid, name FROM player JOIN take USING (player) GROUP BY player ORDER BY MAX(take) DESC"
    )
    return tuple(Identity(uuid=UUID(uuid), name=cleaned(name)) for uuid, name in rows)


def log_owner(connection: sqlite3.Connection, log: Path, name: str) -> Identity:
    """Whose log it is: the player whose id is kept beside it; in a log brought here from another computer, which knows
    them by another id, whoever played last. Named `name`, or as they are known. Raises `LogError` for no take at all.
    """
    known = players_in(connection)
    if not known:
        raise LogError("log.no_take_yet", folder=log.parent)
    kept = read_or_make_identity(log.parent / "player.json")
    meant = next((player for player in known if player.uuid == kept.uuid), known[0])
    return Identity(uuid=meant.uuid, name=name or meant.name or kept.name)
