"""How far a log goes: by this it is told whether what was made from it is still up to date, and of the same log."""

import sqlite3
from typing import NamedTuple


class LogPosition(NamedTuple):
    """An entry of the log: its number, and what it is, so that another log is not taken for this one."""

    number: int = 0
    witness: str = ""


_JUDGEMENTS = "SELECT judgement, ended_utc FROM judgement"
_EVENTS = "SELECT coach_event, at_utc FROM coach_event"


def newest_judgement(connection: sqlite3.Connection) -> LogPosition:
    """The judgement that came last."""
    return _first(connection, f"{_JUDGEMENTS} ORDER BY judgement DESC LIMIT 1")


def newest_event(connection: sqlite3.Connection) -> LogPosition:
    """What the coach heard last."""
    return _first(connection, f"{_EVENTS} ORDER BY coach_event DESC LIMIT 1")


def holds_judgement(connection: sqlite3.Connection, upto: LogPosition) -> bool:
    """Whether this log has that judgement."""
    return upto == _first(connection, f"{_JUDGEMENTS} WHERE judgement = ?", upto.number)


def holds_event(connection: sqlite3.Connection, upto: LogPosition) -> bool:
    """Whether the coach heard that in this log."""
    return upto == _first(connection, f"{_EVENTS} WHERE coach_event = ?", upto.number)


def _first(connection: sqlite3.Connection, statement: str, *values: int) -> LogPosition:
    row = connection.execute(statement, values).fetchone()
    return LogPosition(*row) if row else LogPosition()
