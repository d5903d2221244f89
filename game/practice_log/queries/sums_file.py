"""A file beside the log for what is summed up of it, take by take. It may be thrown away at any time.

It is attached as `summaries` and holds several parts, each of which goes up to a cut of the log. When it is opened,
each part is brought up to date: what was made of entries after the newest cut that still holds is forgotten, and what
came since is added. Sums of another log, of another player or by other rules are made anew, and where the file cannot
be used they are made in memory.
"""

import hashlib
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

import msgspec

from game import __version__
from game.practice_log.database.permissions import make_private
from game.practice_log.queries.dated_cuts import days_before, which_to_keep
from game.practice_log.queries.entry_order import (
    Position,
    entries_after,
    newest_position,
    position_before_newest,
)
from game.practice_log.queries.log_cut import LogCut, newest_cut, stands
from game.practice_log.rows.entry_rows import Kind
from game.practice_log.rows.row_values import json_array

SUFFIX = ".sums"
"""The file of the sums is called like that of the log, with this added."""

_IN_MEMORY = ":memory:"
_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
_BEGINNING = (
    "CREATE TABLE summaries.made (part TEXT PRIMARY KEY, made_by TEXT NOT NULL) WITHOUT ROWID",
    "CREATE TABLE summaries.cut (part TEXT, moment_us INTEGER, cut BLOB, PRIMARY KEY (part, moment_us)) WITHOUT ROWID",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing that is summed up, by its name. `rules` are all that it is made by, and `empty` the statements that
    make its tables anew; `forget` takes out what was made of entries after a position, `add` puts in what came after
    one position and up to another.
    """

    name: str
    rules: str
    empty: Sequence[str]
    forget: Callable[[sqlite3.Connection, Position], None]
    add: Callable[[sqlite3.Connection, UUID, Position, Position], None]


@contextmanager
def sums_attached(
    connection: sqlite3.Connection, player: UUID, parts: Sequence[Part], *, at_once: int | None = None
) -> Iterator[None]:
    """These parts of a player's sums as tables of `summaries`, up to date, until the end of the `with`. A part that
    builds on another comes after it. Where more than `at_once` takes would have to be gone through, they are for now
    those of the newest takes alone, and none of it is kept.
    """
    if _is_attached(connection):
        _bring_up_to_date(connection, player, parts)
        yield
        return
    try:
        _attach_somewhere(connection, player, parts, at_once)
        yield
    finally:
        _detach(connection)


def _attach_somewhere(connection: sqlite3.Connection, player: UUID, parts: Sequence[Part], at_once: int | None) -> None:
    place = sums_place(connection)
    if place != _IN_MEMORY:
        try:
            _attach(connection, place)
            if at_once is None or not _too_much_is_left(connection, player, parts, at_once):
                _bring_up_to_date(connection, player, parts)
                return
        except sqlite3.Error as error:
            _detach(connection)
            _throw_away_damaged(place, error)
        _detach(connection)
    _attach(connection, _IN_MEMORY)
    if at_once is not None and _too_much_is_left(connection, player, parts, at_once):
        _add_newest(connection, player, parts, at_once)
    else:
        _bring_up_to_date(connection, player, parts)


def _too_much_is_left(connection: sqlite3.Connection, player: UUID, parts: Sequence[Part], at_once: int) -> bool:
    newest = newest_cut(connection, player)
    held = (_upto(connection, player, part, newest) or LogCut() for part in parts)
    return any(entries_after(connection, player, Kind.TAKE, cut.position) > at_once for cut in held)


def _add_newest(connection: sqlite3.Connection, player: UUID, parts: Sequence[Part], at_once: int) -> None:
    begin = position_before_newest(connection, player, Kind.TAKE, at_once)
    for part in parts:
        for statement in part.empty:
            connection.execute(statement)
        part.add(connection, player, begin, newest_position(connection, player))


@contextmanager
def sums_as_they_are(connection: sqlite3.Connection, player: UUID, part: Part) -> Iterator[LogCut]:
    """How far a part goes that lies in its file, without bringing it up to date."""
    cut, place = LogCut(), sums_place(connection)
    with suppress(sqlite3.Error):
        if place != _IN_MEMORY and Path(place).exists():
            _attach(connection, place)
            cut = _upto(connection, player, part, newest_cut(connection, player)) or cut
    try:
        yield cut
    finally:
        _detach(connection)


def sums_place(connection: sqlite3.Connection) -> str:
    """Where the sums lie: beside the log; those of a log in memory nowhere."""
    (log,) = (file for _, name, file in connection.execute("PRAGMA database_list") if name == "main")
    return f"{log}{SUFFIX}" if log else _IN_MEMORY


def _is_attached(connection: sqlite3.Connection) -> bool:
    return any(name == "summaries" for _, name, _ in connection.execute("PRAGMA database_list"))


def _attach(connection: sqlite3.Connection, place: str) -> None:
    if place != _IN_MEMORY:
        make_private(Path(place))
    connection.execute("ATTACH ? AS summaries", (place,))
    connection.execute("PRAGMA summaries.synchronous = OFF")


def _bring_up_to_date(connection: sqlite3.Connection, player: UUID, parts: Sequence[Part]) -> None:
    # Deferred: only the sums are locked for writing, and the game's own writer is never in the way.
    began = not connection.in_transaction
    if began:
        connection.execute("BEGIN")
    try:
        newest = newest_cut(connection, player)
        for part in parts:
            _bring_part_up_to_date(connection, player, part, newest)
        if began:
            connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _bring_part_up_to_date(connection: sqlite3.Connection, player: UUID, part: Part, newest: LogCut) -> None:
    held = _upto(connection, player, part, newest)
    if held == newest:
        return
    if held is None:
        held = LogCut()
        _begin_anew(connection, player, part)
    else:
        part.forget(connection, held.position)
    _keep(connection, part, held, newest)
    after = held.position
    # Nobody goes on from what is in memory.
    before = () if sums_place(connection) == _IN_MEMORY else days_before(connection, player, after, newest.position)
    for cut in (*before, newest):
        part.add(connection, player, after, cut.position)
        _put_cut(connection, part, cut)
        after = cut.position


def _begin_anew(connection: sqlite3.Connection, player: UUID, part: Part) -> None:
    if not connection.execute("SELECT 1 FROM summaries.sqlite_master WHERE name = 'made'").fetchone():
        for statement in _BEGINNING:
            connection.execute(statement)
    for statement in part.empty:
        connection.execute(statement)
    connection.execute("DELETE FROM summaries.cut WHERE part = ?", (part.name,))
    made_by = _made_by(connection, player, part)
    connection.execute("INSERT OR REPLACE INTO summaries.made VALUES (?, ?)", (part.name, made_by))


def _is_made(connection: sqlite3.Connection, player: UUID, part: Part) -> bool:
    """Whether a part was made of this log as we make it."""
    if not connection.execute("SELECT 1 FROM summaries.sqlite_master WHERE name = 'made'").fetchone():
        return False
    row = connection.execute("SELECT made_by FROM summaries.made WHERE part = ?", (part.name,)).fetchone()
    return row is not None and row[0] == _made_by(connection, player, part)


def _upto(connection: sqlite3.Connection, player: UUID, part: Part, newest: LogCut) -> LogCut | None:
    """The newest cut of a part that still holds; None where there is none."""
    if not _is_made(connection, player, part):
        return None
    cuts = _cuts(connection, part)
    return next((cut for cut in cuts if cut == newest or stands(connection, player, cut)), None)


def _cuts(connection: sqlite3.Connection, part: Part) -> list[LogCut]:
    """The newest first."""
    rows = connection.execute("SELECT cut FROM summaries.cut WHERE part = ? ORDER BY moment_us DESC", (part.name,))
    with suppress(msgspec.MsgspecError, TypeError):
        return [msgspec.msgpack.decode(kept, type=LogCut) for (kept,) in rows]
    return []


def _keep(connection: sqlite3.Connection, part: Part, held: LogCut, newest: LogCut) -> None:
    """Leave those cuts that hold, and not too many."""
    moments = [cut.position.moment_us for cut in _cuts(connection, part) if cut.position <= held.position]
    kept = which_to_keep(moments, newest.position.moment_us) | {held.position.moment_us}
    connection.execute(
        "DELETE FROM summaries.cut WHERE part = ? AND moment_us NOT IN (SELECT value FROM json_each(?))",
        (part.name, json_array(kept)),
    )


def _put_cut(connection: sqlite3.Connection, part: Part, cut: LogCut) -> None:
    values = (part.name, cut.position.moment_us, msgspec.msgpack.encode(cut))
    connection.execute("INSERT OR REPLACE INTO summaries.cut VALUES (?, ?, ?)", values)


def _detach(connection: sqlite3.Connection) -> None:
    with suppress(sqlite3.Error):
        connection.execute("DETACH summaries")


def _throw_away_damaged(place: str, error: sqlite3.Error) -> None:
    if place != _IN_MEMORY and getattr(error, "sqlite_errorcode", 0) & 0xFF in _DAMAGED:
        with suppress(OSError):
            Path(place).unlink(missing_ok=True)


def _made_by(connection: sqlite3.Connection, player: UUID, part: Part) -> str:
    """The rules by which a part is made, and of which log: the numbers of rows mean something in one file only, which
    is told by when it went through its migrations.
    """
    stamps = connection.execute("SELECT group_concat(applied_utc) FROM main.migration").fetchone()
    rules = repr((part.empty, part.rules, stamps, str(player)))
    return f"{__version__} {hashlib.sha256(rules.encode()).hexdigest()[:16]}"
