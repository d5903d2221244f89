"""Questions to the log. Each takes an open connection (`store.open_store`). Days are the player's own, each that of the
zone in which it was lived.
"""

import sqlite3
from collections.abc import Collection
from dataclasses import replace
from datetime import date
from uuid import UUID

from game.practice_log.queries.entry_order import DAY
from game.practice_log.queries.take_sightings import sightings_up_to_date
from game.practice_log.rows.log_records import LoggedTake, Sighting
from game.practice_log.rows.row_values import json_array
from game.practice_log.rows.take_rows import takes_where

_SIGHTINGS = """
SELECT take, nth, heard, known FROM summaries.sighting WHERE take IN (SELECT value FROM json_each(?))
"""
_DAY_US = 86_400_000_000
_DAY_OF_1970 = date(1970, 1, 1).toordinal()


def takes_between(connection: sqlite3.Connection, player: UUID, first: date, last: date) -> tuple[LoggedTake, ...]:
    """A player's takes begun from one day to another, both in, each with how often its bars had been met."""
    # No zone is further from UTC than a day.
    start, stop = (_DAY_US * (day.toordinal() - _DAY_OF_1970) for day in (first, last))
    values = (str(player), start - _DAY_US, stop + 2 * _DAY_US, first.isoformat(), last.isoformat())
    condition = f"player.uuid = ? AND entry.moment_us BETWEEN ? AND ? AND {DAY} BETWEEN ? AND ?"
    return with_sightings(connection, player, takes_where(connection, condition, values))


def has_takes(connection: sqlite3.Connection) -> bool:
    """Whether anything was ever played into the log."""
    return connection.execute("SELECT 1 FROM take LIMIT 1").fetchone() is not None


def with_sightings(
    connection: sqlite3.Connection, player: UUID, takes: tuple[LoggedTake, ...]
) -> tuple[LoggedTake, ...]:
    """Some takes of a player's, each with how often its bars had been met, as all that came before it tells."""
    if not takes:
        return ()
    which = (json_array(logged.take for logged in takes),)
    with sightings_up_to_date(connection, player):
        rows = connection.execute(_SIGHTINGS, which).fetchall()
    found = {take: Sighting(nth=nth, heard=bool(heard), known_by_ear=bool(known)) for take, nth, heard, known in rows}
    return tuple(
        replace(logged, begun=replace(logged.begun, sighting=found.get(logged.take, Sighting()))) for logged in takes
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
