"""Questions to the log. Each takes an open connection (`store.open_store`); days are given as UTC times, start in,
stop not, because only the player's own clock knows when their day begins.
"""

import sqlite3
from datetime import datetime
from uuid import UUID

from game.practice_log.rows.log_records import LoggedTake
from game.practice_log.rows.row_values import utc_text
from game.practice_log.rows.take_rows import takes_where


def takes_between(
    connection: sqlite3.Connection, player: UUID, start_utc: datetime, stop_utc: datetime
) -> tuple[LoggedTake, ...]:
    """A player's takes begun in a stretch of time, such as a day."""
    values = (str(player), utc_text(start_utc), utc_text(stop_utc))
    return takes_where(connection, "player.uuid = ? AND started_utc >= ? AND started_utc < ?", values)


def unfinished_takes(connection: sqlite3.Connection, device: UUID) -> tuple[LoggedTake, ...]:
    """The takes begun on a device that have no judgement: under way now, or cut short when the program was killed."""
    mine = "take.device = (SELECT device FROM device WHERE uuid = ?)"
    return takes_where(connection, f"{mine} AND judgement.judgement IS NULL", (str(device),))
