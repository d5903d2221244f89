"""A short name for what is in a log: the same wherever the same entries were gathered, in whatever order."""

import hashlib
import sqlite3

_ENTRIES = """
SELECT uuid, sequence, at_us, kind, row FROM entry JOIN device USING (device) ORDER BY uuid, sequence, at_us
"""
_PARTS = {
    "take": ("played", "revised", "help", "name_given"),
    "judgement": ("verdict", "named", "answer", "event"),
    "coach_event": ("decision",),
}
_TABLES = {"take": "take", "judgement": "judgement", "coach": "coach_event"}
_DIGITS = 32


def fingerprint(connection: sqlite3.Connection) -> str:
    """32 hexadecimal digits of SHA-256 (FIPS 180-4) over the key of each entry, its kind, and how many rows belong to
    it; neither the player, the zones, the numbers of rows nor their order make a difference.
    """
    parts = {kind: _parts(connection, table) for kind, table in _TABLES.items()}
    told = hashlib.sha256()
    for device, sequence, at_us, kind, row in connection.execute(_ENTRIES):
        counts = [of_table.get(row, 0) for of_table in parts.get(kind, ())]
        told.update(f"{device} {sequence} {at_us} {kind} {counts}\n".encode())
    return told.hexdigest()[:_DIGITS]


def _parts(connection: sqlite3.Connection, table: str) -> list[dict[int, int]]:
    """How many rows of each table belong to each row of this one."""
    return [
        dict(connection.execute(f"SELECT {table}, COUNT(*) FROM {part} GROUP BY {table}")) for part in _PARTS[table]
    ]
