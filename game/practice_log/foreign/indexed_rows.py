"""Rows of a damaged file whose page is gone, put together from the indexes on their table, which repeat some columns.

Those of the map, of bars, instruments, devices and players come back whole in this way, and every entry but for its
zone.
"""

import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from typing import Any

_MAY_LACK: Mapping[str, Mapping[str, Any]] = {
    "device": {"name": ""},
    "player": {"name": ""},
    "entry": {"zone_minutes": None},
}
"""What no index repeats and a row can do without; the zone of an entry is then that of the nearest one."""

_MOST = 2_000_000


def add_indexed_rows(connection: sqlite3.Connection, staged: sqlite3.Connection, table: str) -> None:
    """Add to a table what the file's indexes tell of rows that it lacks. Its key is a number of the table's name."""
    columns = [(row[1], bool(row[3])) for row in staged.execute(f"PRAGMA table_info({table})")]
    needed = {name for name, wanted in columns if wanted and name not in _MAY_LACK.get(table, {})}
    there = {number for (number,) in staged.execute(f"SELECT {table} FROM {table}")}
    found = {
        number: fields
        for number, fields in _fields_by_number(connection, staged, table).items()
        if number not in there and needed <= set(fields)
    }
    for number, fields in found.items():
        row = {table: number, **_MAY_LACK.get(table, {}), **fields}
        if table == "entry":
            row["zone_minutes"] = _nearest_zone(staged, number)
        names = ", ".join(row)
        marks = ", ".join("?" * len(row))
        staged.execute(f"INSERT OR IGNORE INTO {table} ({names}) VALUES ({marks})", tuple(row.values()))


def _fields_by_number(
    connection: sqlite3.Connection, staged: sqlite3.Connection, table: str
) -> dict[int, dict[str, Any]]:
    """What the indexes tell of each row, by its number."""
    told: dict[int, dict[str, Any]] = defaultdict(dict)
    for _, index, *_ in staged.execute(f"PRAGMA index_list({table})").fetchall():
        names = [row[2] for row in staged.execute(f"PRAGMA index_info({index})")]
        for number, *values in _entries(connection, table, index, names):
            if isinstance(number, int):
                told[number].update(zip(names, values, strict=True))
    return told


def _entries(connection: sqlite3.Connection, table: str, index: str, names: Sequence[str]) -> Iterator[tuple[Any, ...]]:
    """What can be read of an index, from its beginning and from its end."""
    for direction in ("ASC", "DESC"):
        order = ", ".join(f"{name} {direction}" for name in names)
        with suppress(sqlite3.Error):
            rows = connection.execute(
                f"SELECT {table}, {', '.join(names)} FROM {table} INDEXED BY {index} ORDER BY {order} LIMIT {_MOST}"
            )
            while (row := rows.fetchone()) is not None:
                yield row
            return


def _nearest_zone(staged: sqlite3.Connection, number: int) -> int:
    row = staged.execute("SELECT zone_minutes FROM entry ORDER BY ABS(entry - ?) LIMIT 1", (number,)).fetchone()
    return int(row[0]) if row else 0
