"""Sums of the log, a row for each take with its day: they lie in a file beside the log, and may be thrown away.

They go up to a judgement of the log; what was judged since is added when they are asked for. Sums of another log or
by other rules are made anew, and where their file cannot be used they are made in memory.
"""

import hashlib
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from game import __version__
from game.coach.numbers import NUMBERS
from game.practice_log.database.permissions import make_private
from game.practice_log.queries import summaries_sql as sql
from game.practice_log.queries.log_position import LogPosition, holds_judgement, newest_judgement

SUFFIX = ".sums"
"""The file of the sums is called like that of the log, with this added."""

MOST_MINUTES = 10.0
"""A take counts no longer than this: who leaves the page open is not practising. Ours."""

_IN_MEMORY = ":memory:"
_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


@contextmanager
def summarised(connection: sqlite3.Connection) -> Iterator[None]:
    """The sums as table `summaries.take_sums`, up to date, until the end of the `with`."""
    for place in dict.fromkeys((_file_of(connection), _IN_MEMORY)):
        try:
            _attach(connection, place)
        except sqlite3.Error as error:
            _detach(connection)
            _throw_away_damaged(place, error)
            if place == _IN_MEMORY:
                raise
        else:
            break
    try:
        yield
    finally:
        _detach(connection)


def judgements_left(connection: sqlite3.Connection) -> int:
    """How many judgements are not yet in the sums: many take some seconds."""
    newest = newest_judgement(connection).number
    place = _file_of(connection)
    if place == _IN_MEMORY or not Path(place).exists():
        return newest
    try:
        connection.execute("ATTACH ? AS summaries", (place,))
        return newest - _upto(connection).number
    except sqlite3.Error:
        return newest
    finally:
        _detach(connection)


def _file_of(connection: sqlite3.Connection) -> str:
    """Where the sums lie: beside the log; those of a log in memory nowhere."""
    (log,) = (file for _, name, file in connection.execute("PRAGMA database_list") if name == "main")
    return f"{log}{SUFFIX}" if log else _IN_MEMORY


def _attach(connection: sqlite3.Connection, place: str) -> None:
    if place != _IN_MEMORY:
        make_private(Path(place))
    connection.execute("ATTACH ? AS summaries", (place,))
    connection.execute("PRAGMA summaries.synchronous = OFF")
    # Deferred: only the sums are locked for writing, and the game's own writer is never in the way.
    connection.execute("BEGIN")
    try:
        after = _upto(connection).number
        newest = newest_judgement(connection)
        if not after:
            for statement in sql.EMPTY:
                connection.execute(statement)
        if newest.number > after or not after:
            _add(connection, after)
            connection.execute("DELETE FROM summaries.made")
            connection.execute("INSERT INTO summaries.made VALUES (?, ?, ?)", (_made_by(), *newest))
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _upto(connection: sqlite3.Connection) -> LogPosition:
    """How far the attached sums go, if they are sums of this log as we make them."""
    known = connection.execute("SELECT 1 FROM summaries.sqlite_master WHERE name = 'made'").fetchone()
    row = connection.execute("SELECT made_by, number, witness FROM summaries.made").fetchone() if known else None
    if row is None or row[0] != _made_by():
        return LogPosition()
    upto = LogPosition(*row[1:])
    return upto if holds_judgement(connection, upto) else LogPosition()


def _add(connection: sqlite3.Connection, after: int) -> None:
    values = {
        "after": after,
        "sightings": NUMBERS.sightings_read,
        "most_minutes": MOST_MINUTES,
        "pause_ms": 1000 * NUMBERS.pause_s,
    }
    for statement in sql.ADD:
        connection.execute(statement, values)


def _detach(connection: sqlite3.Connection) -> None:
    with suppress(sqlite3.Error):
        connection.execute("DETACH summaries")


def _throw_away_damaged(place: str, error: sqlite3.Error) -> None:
    if place != _IN_MEMORY and getattr(error, "sqlite_errorcode", 0) & 0xFF in _DAMAGED:
        with suppress(OSError):
            Path(place).unlink(missing_ok=True)


def _made_by() -> str:
    """The rules by which sums are made."""
    rules = repr((sql.EMPTY, sql.ADD, NUMBERS.sightings_read, NUMBERS.pause_s, MOST_MINUTES))
    return f"{__version__} {hashlib.sha256(rules.encode()).hexdigest()[:16]}"
