"""Whose log it is: the player whose entries it holds. Their id and name are kept beside it, too, for a log in which
nothing is yet; what the log says holds.
"""

import sqlite3
from contextlib import closing, suppress
from pathlib import Path
from uuid import UUID, uuid4

from game.practice_log.database.identity import PLAYER_FILE, Identity, read_identity, write_identity
from game.practice_log.database.own_device import one_at_a_time
from game.text.clean_text import cleaned

_LONGEST_NAME = 60
_WAIT_S = 1.0
_HAVE_ENTRIES = """
SELECT player.player, uuid, name, (SELECT COUNT(*) FROM take WHERE take.player = player.player) AS takes FROM player
WHERE EXISTS (SELECT 1 FROM {table} WHERE {table}.player = player.player) ORDER BY takes DESC, uuid
"""
_NEWEST_NAME = """
SELECT json_extract(fact.content, '$.name')
FROM fact JOIN entry ON entry.kind = 'fact' AND entry.row = fact.fact JOIN device USING (device)
WHERE fact.about = 'name' AND json_valid(fact.content) AND entry.player = ?
ORDER BY entry.moment_us DESC, device.uuid DESC, entry.sequence DESC LIMIT 1
"""


def own_player(log: Path, *, name: str = "") -> Identity:
    """Whose log it is, or will be: as the log tells it, else as it is kept beside it, else somebody new called `name`.
    It is kept again where that is otherwise; where it cannot be written it holds for this run only.
    """
    told, kept = player_of_log(log), read_identity(log.parent / PLAYER_FILE, Identity)
    right = _right(told, kept, name)
    if right == kept:
        return right
    with one_at_a_time(log.parent):
        right = _right(told, read_identity(log.parent / PLAYER_FILE, Identity), name)
        with suppress(OSError):
            write_identity(log.parent / PLAYER_FILE, right)
    return right


def player_of_log(log: Path) -> Identity | None:
    """The player whose log it is by its entries; None where there are none, or it cannot be read."""
    if not log.is_file():
        return None
    try:
        with closing(sqlite3.connect(f"{log.resolve().as_uri()}?mode=ro", uri=True, timeout=_WAIT_S)) as connection:
            connection.execute("PRAGMA trusted_schema = OFF")
            return next(iter(players_with_entries(connection)), None)
    except sqlite3.Error:
        return None


def players_with_entries(connection: sqlite3.Connection) -> tuple[Identity, ...]:
    """The players whose entries a log holds, the one with most takes first: more than one where a log of before was
    carried to another computer and played on there.
    """
    (keyed,) = connection.execute("SELECT COUNT(*) FROM sqlite_master WHERE name = 'entry'").fetchone()
    rows = connection.execute(_HAVE_ENTRIES.format(table="entry" if keyed else "take")).fetchall()
    return tuple(
        Identity(uuid=UUID(uuid), name=(_named(connection, number) if keyed else "") or cleaned(name, _LONGEST_NAME))
        for number, uuid, name, _ in rows
    )


def _named(connection: sqlite3.Connection, player: int) -> str:
    """The name that a player gave themselves last; empty where they never did."""
    found = connection.execute(_NEWEST_NAME, (player,)).fetchone()
    return cleaned(str(found[0]), _LONGEST_NAME) if found else ""


def _right(told: Identity | None, kept: Identity | None, name: str) -> Identity:
    uuid = told.uuid if told else kept.uuid if kept else uuid4()
    names = (told.name if told else "", kept.name if kept else "", name)
    return Identity(uuid=uuid, name=next(filter(None, names), ""))
