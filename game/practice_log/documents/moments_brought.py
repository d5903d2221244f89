"""Entries from elsewhere into their place in time."""

import sqlite3
from collections.abc import Sequence
from operator import itemgetter
from typing import NamedTuple

from game.practice_log.documents.many_rows import put_rows
from game.practice_log.rows.entry_rows import About, settle_gathered, settle_moments

_INSERT = (
    "INSERT INTO entry (device, sequence, at_us, zone_minutes, player, kind, row, moment_us) "
    "VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
)
_LAST = "SELECT sequence, moment_us FROM entry WHERE device = ? AND sequence > 0 ORDER BY sequence DESC LIMIT 1"


class Brought(NamedTuple):
    """An entry that is new here, by the numbers that its device, player and row have in this log."""

    device: int
    sequence: int
    at_us: int
    zone_minutes: int
    player: int
    kind: str
    row: int


def settle_brought(connection: sqlite3.Connection, brought: Sequence[Brought]) -> None:
    """Add entries, each where it stands in time."""
    devices = sorted({entry.device for entry in brought})
    late = [device for device in devices if not _in_order(connection, [one for one in brought if one.device == device])]
    put_rows(connection, _INSERT, ((*entry, entry.at_us) for entry in brought))
    if connection.execute("SELECT 1 FROM fact WHERE about = ? LIMIT 1", (About.CLOCK.value,)).fetchone():
        settle_gathered(connection, devices)
    else:
        for device in late:
            settle_moments(connection, device)


def _in_order(connection: sqlite3.Connection, of_device: Sequence[Brought]) -> bool:
    """Whether what a device counted comes after all that is there of it, and its clock never went back."""
    counted = sorted((entry for entry in of_device if entry.sequence > 0), key=itemgetter(1, 2))
    if not counted:
        return True
    sequence, moment_us = connection.execute(_LAST, (counted[0].device,)).fetchone() or (0, counted[0].at_us)
    if counted[0].sequence <= sequence:
        return False
    times = [moment_us, *(entry.at_us for entry in counted)]
    return times == sorted(times)
