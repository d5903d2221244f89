"""The order of everything in a log: by the moment, then the device, then the device's own count. Numbers of rows mean
nothing.
"""

import sqlite3
from typing import Any, NamedTuple
from uuid import UUID

from game.practice_log.rows.entry_rows import Kind

ORDER = "entry.moment_us, device.uuid, entry.sequence, entry.at_us"
"""By what `entry JOIN device` is sorted. The time of its clock tells two entries apart that a copied device made."""

DAY = "date(entry.moment_us / 1000000 + 60 * entry.zone_minutes, 'unixepoch')"
"""The player's day of an entry, as text "2026-03-14"."""

_SECONDS_BEFORE_1970 = 719_163 * 86_400
DAY_NUMBER = f"(entry.moment_us / 1000000 + 60 * entry.zone_minutes + {_SECONDS_BEFORE_1970}) / 86400"
"""The same, counted from the first of January of year 1 (`date.toordinal`)."""


MINUTE_OF_DAY = f"(entry.moment_us / 1000000 + 60 * entry.zone_minutes + {_SECONDS_BEFORE_1970}) % 86400 / 60"
"""The minute of that day, counted from midnight."""


class Position(NamedTuple):
    """Where an entry stands. Compared as a tuple, it is the order of everything. `device` is the text of its id."""

    moment_us: int
    device: str
    sequence: int
    at_us: int


BEFORE_ALL = Position(-(2**62), "", 0, 0)
AFTER_ALL = Position(2**62, "", 0, 0)

BETWEEN = f"""
entry.player = (SELECT player FROM player WHERE uuid = :player)
    AND entry.moment_us >= :after_us AND entry.moment_us <= :upto_us
    AND ({ORDER}) > (:after_us, :after_device, :after_sequence, :after_at)
    AND ({ORDER}) <= (:upto_us, :upto_device, :upto_sequence, :upto_at)
"""
"""The entries of a player's from one position, which is out, to another, which is in: see `bounds`."""

_NEWEST = f"""
SELECT {ORDER} FROM entry JOIN device USING (device)
WHERE entry.player = (SELECT player FROM player WHERE uuid = ?) AND entry.kind <> 'unread'
ORDER BY entry.moment_us DESC, device.uuid DESC, entry.sequence DESC, entry.at_us DESC LIMIT 1
"""
_COUNT = f"SELECT COUNT(*) FROM entry CROSS JOIN device USING (device) WHERE entry.kind = :kind AND {BETWEEN}"
_BEFORE_NEWEST = f"""
SELECT {ORDER} FROM entry CROSS JOIN device USING (device) WHERE entry.kind = :kind AND {BETWEEN}
ORDER BY entry.moment_us DESC, device.uuid DESC, entry.sequence DESC, entry.at_us DESC LIMIT 1 OFFSET :many
"""
_AT = f"""
SELECT {ORDER} FROM entry JOIN device USING (device)
WHERE entry.player = (SELECT player FROM player WHERE uuid = ?) AND entry.kind <> 'unread' AND entry.moment_us <= ?
ORDER BY entry.moment_us DESC, device.uuid DESC, entry.sequence DESC, entry.at_us DESC LIMIT 1
"""


def bounds(player: UUID, after: Position, upto: Position) -> dict[str, Any]:
    """The values for `BETWEEN`."""
    return {
        "player": str(player),
        **dict(zip(("after_us", "after_device", "after_sequence", "after_at"), after, strict=True)),
        **dict(zip(("upto_us", "upto_device", "upto_sequence", "upto_at"), upto, strict=True)),
    }


def newest_position(connection: sqlite3.Connection, player: UUID) -> Position:
    """Where the player's newest entry stands; `BEFORE_ALL` where there is none."""
    row = connection.execute(_NEWEST, (str(player),)).fetchone()
    return Position(*row) if row else BEFORE_ALL


def position_at(connection: sqlite3.Connection, player: UUID, moment_us: int) -> Position:
    """Where the player's newest entry up to a moment stands, that moment in; `BEFORE_ALL` where there is none."""
    row = connection.execute(_AT, (str(player), moment_us)).fetchone()
    return Position(*row) if row else BEFORE_ALL


def entries_after(connection: sqlite3.Connection, player: UUID, kind: Kind, after: Position) -> int:
    """How many entries of a kind the player has after a position."""
    values = {"kind": kind.value, **bounds(player, after, AFTER_ALL)}
    return int(connection.execute(_COUNT, values).fetchone()[0])


def position_before_newest(connection: sqlite3.Connection, player: UUID, kind: Kind, many: int) -> Position:
    """The position after which there are `many` entries of a kind; `BEFORE_ALL` where there are no more than that."""
    values = {"kind": kind.value, "many": many, **bounds(player, BEFORE_ALL, AFTER_ALL)}
    row = connection.execute(_BEFORE_NEWEST, values).fetchone()
    return Position(*row) if row else BEFORE_ALL
