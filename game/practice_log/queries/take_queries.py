"""Questions to the log. Each takes an open connection (`store.open_store`); days are given as UTC times, start in,
stop not, because only the player's own clock knows when their day begins.
"""

import sqlite3
from collections.abc import Collection
from datetime import datetime
from uuid import UUID

from game.practice_log.rows.log_records import LoggedTake
from game.practice_log.rows.row_values import json_array, utc_text
from game.practice_log.rows.take_rows import takes_where


def takes_between(
    connection: sqlite3.Connection, player: UUID, start_utc: datetime, stop_utc: datetime
) -> tuple[LoggedTake, ...]:
    """A player's takes begun in a stretch of time, such as a day."""
    values = (str(player), utc_text(start_utc), utc_text(stop_utc))
    return takes_where(connection, "player.uuid = ? AND started_utc >= ? AND started_utc < ?", values)


def unfinished_takes(connection: sqlite3.Connection, devices: Collection[UUID]) -> tuple[LoggedTake, ...]:
    """The takes begun on some devices that have no judgement: under way now, or cut short when the program was
    killed.
    """
    begun_on = "take.device IN (SELECT device FROM device WHERE uuid IN (SELECT value FROM json_each(?)))"
    return takes_where(
        connection, f"{begun_on} AND judgement.judgement IS NULL", (json_array([str(uuid) for uuid in devices]),)
    )
