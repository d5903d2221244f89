"""A file beside the log for what was judged again and is not yet in it. It may be thrown away at any time.

Judging years of takes again takes minutes, and whoever plays ends it: what was found out until then lies here, and the
log gets it in one go. Takes are known by their keys, so that another log in the place of this one begins anew.
"""

import sqlite3
import zlib
from collections.abc import Collection, Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple, Self

import msgspec

from game.judging.verdicts import Judgement
from game.practice_log.database.permissions import make_private
from game.practice_log.rows.row_values import json_array

SUFFIX = ".judged"
"""The file is called like that of the log, with this added."""

FOLD, DUE = "fold", "due"
"""Noted where what is made of the log is to be made anew."""

_FORM = 1
_WAITING, _DELIVERED = "waiting", "delivered"
_TABLES = """
CREATE TABLE IF NOT EXISTS gone_through (
    take INTEGER PRIMARY KEY, key TEXT NOT NULL, came_to TEXT NOT NULL, judgement BLOB
);
CREATE INDEX IF NOT EXISTS by_outcome ON gone_through (came_to);
CREATE TABLE IF NOT EXISTS noted (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
"""
_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


class GoneThrough(NamedTuple):
    """A take that was judged again: its number in this log, its key, and what came of it, a judgement or a word."""

    take: int
    key: str
    found: Judgement | str


class Waiting(NamedTuple):
    """A judgement that is not in the log yet."""

    take: int
    judgement: Judgement


class JudgedFile:
    """What a judge of a version found out; `checked` goes through all of it first. Raises `sqlite3.Error` and `OSError`
    where the disk refuses.
    """

    def __init__(self, log: Path, judge: int, *, checked: bool = False) -> None:
        self._path, self._checked = judged_path(log), checked
        self._connection = self._opened(f"{_FORM} {judge}")

    def _opened(self, made_by: str, *, again: bool = True) -> sqlite3.Connection:
        """The file, begun anew where it is damaged or was made by another judge."""
        connection = _connected(self._path)
        try:
            connection.execute("PRAGMA synchronous = OFF")
            sound = not self._checked or connection.execute("PRAGMA quick_check(1)").fetchone() == ("ok",)
            connection.executescript(_TABLES)
            connection.execute("INSERT OR IGNORE INTO noted VALUES ('made by', ?)", (made_by,))
            fits = connection.execute("SELECT value FROM noted WHERE name = 'made by'").fetchone() == (made_by,)
            fits = fits and sound
        except sqlite3.DatabaseError as error:
            if not again or error.sqlite_errorcode not in _DAMAGED:
                connection.close()
                raise
            fits = False
        if fits or not again:
            return connection
        connection.close()
        self._path.unlink(missing_ok=True)
        return self._opened(made_by, again=False)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._connection.close()

    def known(self, keys: Mapping[int, str]) -> set[int]:
        """The takes that were gone through. What lies here of takes that have other keys by now, or none, goes."""
        there = dict(self._connection.execute("SELECT take, key FROM gone_through"))
        others = [take for take, key in there.items() if keys.get(take) != key]
        if others:
            self._connection.execute(
                "DELETE FROM gone_through WHERE take IN (SELECT value FROM json_each(?))", (json_array(others),)
            )
        return there.keys() - set(others)

    def keep(self, found: Iterable[GoneThrough]) -> None:
        """Some more takes were gone through."""
        rows = [
            (one.take, one.key, one.found, None)
            if isinstance(one.found, str)
            else (one.take, one.key, _WAITING, zlib.compress(msgspec.msgpack.encode(one.found), 1))
            for one in found
        ]
        self._connection.execute("BEGIN")
        self._connection.executemany("INSERT OR REPLACE INTO gone_through VALUES (?, ?, ?, ?)", rows)
        self._connection.execute("COMMIT")

    def waiting(self, most: int) -> list[Waiting]:
        """Some of the judgements that are not in the log yet, those of the newest takes first."""
        rows = self._connection.execute(
            "SELECT take, judgement FROM gone_through WHERE came_to = ? ORDER BY take DESC LIMIT ?", (_WAITING, most)
        )
        return [Waiting(take, msgspec.msgpack.decode(zlib.decompress(raw), type=Judgement)) for take, raw in rows]

    def delivered(self, takes: Collection[int]) -> None:
        """These are in the log now; what is made of it is to be made anew."""
        self.note(FOLD, DUE)
        self._connection.execute(
            "UPDATE gone_through SET came_to = ?, judgement = NULL WHERE take IN (SELECT value FROM json_each(?))",
            (_DELIVERED, json_array(takes)),
        )

    def tidy(self) -> None:
        """Give back the room of judgements that are in the log by now."""
        self._connection.execute("VACUUM")

    def counts(self) -> dict[str, int]:
        """How many takes came to what, by its word."""
        return dict(self._connection.execute("SELECT came_to, COUNT(*) FROM gone_through GROUP BY came_to"))

    def note(self, name: str, value: str) -> None:
        """Keep a word under a name."""
        self._connection.execute("INSERT OR REPLACE INTO noted VALUES (?, ?)", (name, value))

    def noted(self, name: str) -> str | None:
        """The word kept under a name."""
        row = self._connection.execute("SELECT value FROM noted WHERE name = ?", (name,)).fetchone()
        return None if row is None else str(row[0])


def judged_path(log: Path) -> Path:
    """Where the file of a log lies."""
    return log.with_name(log.name + SUFFIX)


def delivered_so_far(log: Path) -> int:
    """How many judgements went from the file into the log; 0 where there is none, or it cannot be read."""
    path = judged_path(log)
    with suppress(sqlite3.Error):
        if path.exists():
            connection = _connected(path)
            try:
                count = "SELECT COUNT(*) FROM gone_through WHERE came_to = ?"
                return int(connection.execute(count, (_DELIVERED,)).fetchone()[0])
            finally:
                connection.close()
    return 0


def _connected(path: Path) -> sqlite3.Connection:
    make_private(path)
    return sqlite3.connect(path, isolation_level=None)
