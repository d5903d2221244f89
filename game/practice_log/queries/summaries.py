"""Sums of the log, a row for each judged take with its day, and a row for each day: a part of the file beside the log
(`sums_file`).
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from uuid import UUID

from game.coach.numbers import NUMBERS
from game.practice_log.queries import summaries_sql as sql
from game.practice_log.queries.entry_order import AFTER_ALL, Position, bounds, entries_after
from game.practice_log.queries.mark_sums import MARKS
from game.practice_log.queries.sums_file import Part, sums_as_they_are, sums_attached
from game.practice_log.queries.take_sightings import SIGHTINGS
from game.practice_log.rows.entry_rows import Kind

MOST_MINUTES = 10.0
"""A take counts no longer than this: who leaves the page open is not practising. Ours."""


@contextmanager
def summarised(connection: sqlite3.Connection, player: UUID) -> Iterator[None]:
    """The sums of a player's takes as tables `summaries.take_sums`, `day_sums` and `mark`, up to date, until the end of
    the `with`.
    """
    with sums_attached(connection, player, (SIGHTINGS, _take_sums(), MARKS)):
        yield


def takes_left(connection: sqlite3.Connection, player: UUID) -> int:
    """How many takes are not yet in the sums: many take some seconds."""
    with sums_as_they_are(connection, player, _take_sums()) as upto:
        return entries_after(connection, player, Kind.TAKE, upto.position)


def _take_sums() -> Part:
    """How the sums are made."""
    rules = repr((sql.FORGET, sql.ADD, NUMBERS.sightings_read, NUMBERS.pause_s, MOST_MINUTES, SIGHTINGS.rules))
    return Part(name="take sums", rules=rules, empty=sql.EMPTY, forget=_forget, add=_add)


def _forget(connection: sqlite3.Connection, after: Position) -> None:
    values = bounds(UUID(int=0), after, AFTER_ALL)
    for statement in sql.FORGET:
        connection.execute(statement, values)


def _add(connection: sqlite3.Connection, player: UUID, after: Position, upto: Position) -> None:
    values = {
        **bounds(player, after, upto),
        "sightings": NUMBERS.sightings_read,
        "most_minutes": MOST_MINUTES,
        "pause_ms": 1000 * NUMBERS.pause_s,
    }
    for statement in sql.ADD:
        connection.execute(statement, values)
