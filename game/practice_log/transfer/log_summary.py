"""What is in a log, all told: whose it is, of which devices, on which days, how much, and its fingerprint."""

import sqlite3
from dataclasses import dataclass

from game.practice_log.database.identity import Identity
from game.practice_log.database.own_player import players_with_entries
from game.practice_log.queries.entry_order import DAY
from game.practice_log.transfer.log_fingerprint import fingerprint

_DEVICES = """
SELECT device.uuid, device.name, COUNT(CASE WHEN entry.kind = 'take' THEN 1 END)
FROM device JOIN entry USING (device) GROUP BY device ORDER BY 3 DESC, device.uuid
"""
_DAYS = f"SELECT COUNT(DISTINCT {DAY}), MIN({DAY}), MAX({DAY}) FROM entry WHERE kind = 'take'"


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceShareOfLog:
    """A device by its id and name, and how many takes were played on it."""

    uuid: str
    name: str
    takes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LogSummary:
    """`player` is None where nothing is in the log; `days` counts those practised on, `first` and `last` are days as
    text, each by the zone in which it was lived; `notes` counts the notes played.
    """

    player: Identity | None
    devices: tuple[DeviceShareOfLog, ...]
    days: int
    first: str | None
    last: str | None
    notes: int
    fingerprint: str


def log_summary(connection: sqlite3.Connection) -> LogSummary:
    """What is in a log."""
    days, first, last = connection.execute(_DAYS).fetchone()
    (notes,) = connection.execute("SELECT COUNT(*) FROM played").fetchone()
    return LogSummary(
        player=next(iter(players_with_entries(connection)), None),
        devices=tuple(
            DeviceShareOfLog(uuid=uuid, name=name, takes=takes)
            for uuid, name, takes in connection.execute(_DEVICES).fetchall()
        ),
        days=days,
        first=first,
        last=last,
        notes=notes,
        fingerprint=fingerprint(connection),
    )
