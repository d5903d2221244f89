"""A log belongs to one player. Where entries of others are in it, it was carried to another computer, which knew the
player by another id, or its player said that they are one person: the entries become those of one.
"""

import sqlite3
from contextlib import closing
from pathlib import Path
from uuid import UUID

from game.practice_log.database.own_player import players_with_entries
from game.practice_log.rows.entry_rows import About, Recorded, put_fact

_WAIT_S = 1.0
_SAME = """
SELECT DISTINCT json_extract(fact.content, '$.player')
FROM fact JOIN entry ON entry.kind = 'fact' AND entry.row = fact.fact
WHERE fact.about = 'same player' AND json_valid(fact.content)
"""


def has_several(connection: sqlite3.Connection) -> bool:
    """Whether entries of more than one player are in a log."""
    some = "SELECT 1 FROM player WHERE EXISTS (SELECT 1 FROM entry WHERE entry.player = player.player) LIMIT 2"
    return len(connection.execute(some).fetchall()) > 1


def become_one(connection: sqlite3.Connection, recorded: Recorded) -> None:
    """All entries become those of the player of `recorded`, which is a fact from now on. To be called in a transaction;
    where there is nobody else nothing happens.
    """
    others = connection.execute(
        "SELECT player, uuid FROM player WHERE player <> ? "
        "AND EXISTS (SELECT 1 FROM entry WHERE entry.player = player.player) ORDER BY uuid",
        (recorded.player,),
    ).fetchall()
    known = _said_same(connection)
    for player, uuid in others:
        connection.execute("UPDATE entry SET player = ? WHERE player = ?", (recorded.player, player))
        if UUID(uuid) not in known:
            put_fact(connection, recorded, About.SAME_PLAYER, {"player": uuid})


def uuids_of_owner(connection: sqlite3.Connection) -> frozenset[UUID]:
    """All ids by which the player of a log is known: those of its entries, and those that were said to be the same."""
    return frozenset(player.uuid for player in players_with_entries(connection)) | _said_same(connection)


def ids_in_log(log: Path) -> frozenset[UUID]:
    """All ids by which the player of a log on the disk is known; none where it cannot be read. It stays as it is."""
    if not log.is_file():
        return frozenset()
    try:
        with closing(sqlite3.connect(f"{log.resolve().as_uri()}?mode=ro", uri=True, timeout=_WAIT_S)) as connection:
            connection.execute("PRAGMA trusted_schema = OFF")
            return uuids_of_owner(connection)
    except sqlite3.Error:
        return frozenset()


def _said_same(connection: sqlite3.Connection) -> frozenset[UUID]:
    (keyed,) = connection.execute("SELECT COUNT(*) FROM sqlite_master WHERE name = 'fact'").fetchone()
    if not keyed:
        return frozenset()
    said = (_uuid(text) for (text,) in connection.execute(_SAME))
    return frozenset(uuid for uuid in said if uuid is not None)


def _uuid(text: object) -> UUID | None:
    try:
        return UUID(str(text))
    except ValueError:
        return None
