"""Many rows into a table at once."""

import sqlite3
from collections.abc import Iterable
from itertools import chain
from typing import Any

ROWS_AT_ONCE = 20
"""More makes it no quicker."""


# Of what is neither a number nor text sqlite3 asks each time how it is to be written, unless it is told: that took half
# of the time.
sqlite3.register_adapter(bool, int)
sqlite3.register_adapter(type(None), {None: None}.get)


def put_rows(connection: sqlite3.Connection, statement: str, rows: Iterable[tuple[Any, ...]]) -> None:
    """Add rows, each with a value for every mark of a statement that ends in those of one row, "VALUES (?, ?)". Several
    rows at once take a third less time than `executemany` does.
    """
    marks = statement[statement.rindex("(") :]
    width = marks.count("?")
    values = list(chain.from_iterable(rows))
    whole = len(values) - len(values) % (width * ROWS_AT_ONCE)
    several = ", ".join((statement, *[marks] * (ROWS_AT_ONCE - 1)))
    connection.executemany(several, _cut(values, 0, whole, width * ROWS_AT_ONCE))
    connection.executemany(statement, _cut(values, whole, len(values), width))


def _cut(values: list[Any], start: int, stop: int, length: int) -> Iterable[list[Any]]:
    return (values[at : at + length] for at in range(start, stop, length))
