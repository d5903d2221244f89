"""Questions to the log. Each takes an open connection (`store.open_store`). Days are the player's own, each that of the
zone in which it was lived.
"""

import sqlite3
from collections.abc import Collection
from datetime import date
from uuid import UUID

from game.practice_log.queries.entry_order import DAY
from game.practice_log.rows.log_records import LoggedTake
from game.practice_log.rows.row_values import json_array
from game.practice_log.rows.take_rows import takes_where

_DAY_US = 86_400_000_000
_DAY_OF_1970 = date(1970, 1, 1).toordinal()


def takes_between(connection: sqlite3.Connection, player: UUID, first: date, last: date) -> tuple[LoggedTake, ...]:
    """A player's takes begun from one day to another, both in."""
    # No zone is further from UTC than a day.
    start, stop = (_DAY_US * (day.toordinal() - _DAY_OF_1970) for day in (first, last))
    values = (str(player), start - _DAY_US, stop + 2 * _DAY_US, first.isoformat(), last.isoformat())
    return takes_where(
        connection, f"player.uuid = ? AND entry.moment_us BETWEEN ? AND ? AND {DAY} BETWEEN ? AND ?", values
    )


def unfinished_takes(
    connection: sqlite3.Connection, devices: Collection[UUID], abandoned_us: int = 0
) -> tuple[LoggedTake, ...]:
    """The takes begun on some devices that have no judgement: under way now, or cut short when the program was
    killed. Those of any other device only from before `abandoned_us`, a moment in the log: it may still play.
    """
    begun_on = "take.device IN (SELECT device FROM device WHERE uuid IN (SELECT value FROM json_each(?)))"
    abandoned = "(SELECT moment_us FROM entry WHERE kind = 'take' AND row = take.take) < ?"
    return takes_where(
        connection,
        f"judgement.judgement IS NULL AND ({begun_on} OR {abandoned})",
        (json_array([str(uuid) for uuid in devices]), abandoned_us),
    )
