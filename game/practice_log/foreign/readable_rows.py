"""The rows of a table in a damaged file that can be read, around the places that cannot.

Rows are asked for in the order of their keys. Where that breaks off, the key is looked for from which it goes on, one
by one: on a page are some hundred rows, and those of other pages are not to be lost with it.
"""

import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

MOST_TRIED = 300_000
"""Keys that are tried in one table: several times what a page that leads to others has below it."""

_TRIED_WITHOUT_END = 5_000
"""Where not even the last key can be told."""


@dataclass(frozen=True, slots=True)
class Gap:
    """A place that could not be read: after the row with the key `after` (empty at the beginning of the table), up to
    that with the first column `before` of its key (None at its end), neither included.
    """

    after: tuple[int, ...]
    before: int | None


@dataclass(slots=True)
class TableRows:
    """A table of a damaged file, its columns named, those of its key first and whole numbers. `gaps` are known when all
    rows were asked for.
    """

    table: str
    columns: Sequence[str]
    key: Sequence[str]
    gaps: list[Gap] = field(default_factory=list)

    def rows(self, connection: sqlite3.Connection) -> Iterator[tuple[Any, ...]]:
        """Every row that can be read, in the order of the keys."""
        first, after = self.key[0], ()
        condition, values = "1", tuple[Any, ...]()
        tried = MOST_TRIED
        while True:
            try:
                for row in self._select(connection, condition, values):
                    after = row[: len(self.key)]
                    yield row
            except sqlite3.Error:
                start = max([after[0] + 1 if after else 0, *(value + 1 for value in values)])
                before, tried = self._next(connection, start, tried)
                self._add_gap(Gap(after, before))
                if before is None:
                    return
                condition, values = f"{first} >= ?", (before,)
            else:
                return

    def _select(self, connection: sqlite3.Connection, condition: str, values: tuple[Any, ...]) -> Iterator[Any]:
        cursor = connection.execute(
            f"SELECT {', '.join(self.columns)} FROM {self.table} NOT INDEXED WHERE {condition} "
            f"ORDER BY {', '.join(self.key)}",
            values,
        )
        # One by one: of many at once none would be had where one of them cannot be read.
        while (row := cursor.fetchone()) is not None:
            if not all(isinstance(part, int) for part in row[: len(self.key)]):
                raise sqlite3.DatabaseError("a key that is none")
            yield row

    def _add_gap(self, gap: Gap) -> None:
        """Add a gap, or let the last one go on where no row stands between them."""
        if self.gaps and self.gaps[-1].after == gap.after:
            self.gaps.pop()
        self.gaps.append(gap)

    def _next(self, connection: sqlite3.Connection, start: int, tried: int) -> tuple[int | None, int]:
        """The first column of the key from which it goes on, None where it does not; and how many may be tried yet."""
        last = self._last(connection)
        stop = start + _TRIED_WITHOUT_END if last is None else last + 1
        statement = f"SELECT {', '.join(self.columns)} FROM {self.table} NOT INDEXED WHERE {self.key[0]} = ?"
        for number in range(start, min(stop, start + tried)):
            try:
                if connection.execute(statement, (number,)).fetchone() is not None:
                    return number, tried - (number - start) - 1
            except sqlite3.Error:
                continue
        return None, 0

    def _last(self, connection: sqlite3.Connection) -> int | None:
        """The last key's first column, None where that cannot be told."""
        try:
            row = connection.execute(f"SELECT {self.key[0]} FROM {self.table} ORDER BY 1 DESC LIMIT 1").fetchone()
        except sqlite3.Error:
            return None
        return row[0] if row and isinstance(row[0], int) else None
