"""A log that is only asked: our own, or one that came from elsewhere and must stay as it is."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from pathlib import Path

from game.errors import LogError, reason_of
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import transaction
from game.practice_log.database.own_device import own_device
from game.practice_log.database.own_player import own_player, players_with_entries
from game.practice_log.database.soundness import schema_damage
from game.practice_log.database.store import open_store
from game.practice_log.documents.take_in import read_what_was_kept
from game.practice_log.foreign.read_export import read_log
from game.practice_log.rows.entry_rows import Recorded
from game.practice_log.rows.one_player import become_one, has_several
from game.practice_log.rows.shared_rows import put_device, put_player


def open_own(path: Path, *, now: datetime) -> sqlite3.Connection:
    """A connection to the log of the player of this folder, made and brought up to date where needed, with all of its
    entries theirs. Raises as `open_store` does.
    """
    connection = open_store(path, now_utc=now)
    # Where it cannot be written now, it is done when it can.
    with suppress(sqlite3.Error):
        if has_several(connection):
            owner, device = players_with_entries(connection)[0], own_device(path.parent)
            with transaction(connection):
                recorded = Recorded(put_device(connection, device), put_player(connection, owner), now)
                become_one(connection, recorded)
        read_what_was_kept(connection)
    return connection


@contextmanager
def opened_log(path: Path) -> Iterator[sqlite3.Connection]:
    """Our own log, brought up to date where an older program wrote it. Raises `LogError` when it cannot be read."""
    if not path.exists():
        raise LogError("log.none_yet", folder=path.parent)
    if (damage := schema_damage(path)) is not None:
        raise LogError(damage.told)
    try:
        connection = open_own(path, now=datetime.now().astimezone())
    except (sqlite3.Error, OSError) as error:
        raise LogError("log.file_unreadable", file=path, fault=reason_of(error)) from error
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
    """The players who have takes in a log, whoever played last first, by the name they gave themselves last."""
    rows = connection.execute(
        "SELECT player.uuid FROM player JOIN entry USING (player) WHERE entry.kind = 'take' "
        "GROUP BY player ORDER BY MAX(entry.moment_us) DESC, player.uuid"
    ).fetchall()
    known = {str(player.uuid): player for player in players_with_entries(connection)}
    return tuple(known[uuid] for (uuid,) in rows)


def log_owner(connection: sqlite3.Connection, log: Path, name: str) -> Identity:
    """Whose log it is: the player whose entries it holds. Named `name`, or as they named themselves. Raises `LogError`
    for no take at all.
    """
    if not players_in(connection):
        raise LogError("log.no_take_yet", folder=log.parent)
    meant = own_player(log)
    return Identity(uuid=meant.uuid, name=name or meant.name)
