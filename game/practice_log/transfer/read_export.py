"""An export back into a log, in memory.

A file from elsewhere is hostile. Nothing of it is run or opened as a database: its rows go as plain values into an
empty log of our own, with caps on their number and size.
"""

import sqlite3
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import MIGRATIONS, columns_of, transaction
from game.practice_log.database.store import open_store
from game.practice_log.transfer.contents import CONTENTS, FORMAT, FORMAT_VERSION, TABLES, Whose
from game.practice_log.transfer.exported_rows import exported_rows
from game.text.clean_text import cleaned

MAX_CONTENTS_BYTES = 1_000_000
MAX_ROWS = 20_000_000
MAX_BYTES = 4_000_000_000
_SHOWN = frozenset({"title", "name", "first", "last", "bar"})
"""Columns that people will see."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportContents:
    """What an export says of itself. `utc_offset_minutes` is the zone of the player's days; `days` the first and last
    day practised, as text, None without takes.
    """

    player: Identity
    exported_utc: datetime
    utc_offset_minutes: int
    takes: int
    days: tuple[str, str] | None = None

    @property
    def zone(self) -> str:
        """The zone as `game.practice_log.queries.figures.figures_of` wants it."""
        return f"{self.utc_offset_minutes:+d} minutes"


class _Kind(msgspec.Struct, frozen=True):
    """What comes first to be known of a file: whether this program knows its kind."""

    format: object


class _Version(msgspec.Struct, frozen=True):
    """And whether it is not of a newer one, whose contents may be others."""

    version: object
    migrations: list[str]


class _FirstAndLast(msgspec.Struct, frozen=True):
    first: str | None
    last: str | None = None


class _Takes(msgspec.Struct, frozen=True):
    take: int


class _Told(msgspec.Struct, frozen=True):
    """Of the contents, what is used."""

    player: Whose
    exported_utc: str
    utc_offset_minutes: int
    rows: _Takes
    days: _FirstAndLast
    columns: dict[str, list[str]]


def read_export(path: Path) -> tuple[sqlite3.Connection, ExportContents]:
    """An export as a log in memory, and what it says of itself. Close the connection after use.

    Raises `LogError` in one sentence for a file that is no export, is damaged, or was written by a newer program.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            told = _checked(archive, path)
            contents = _contents(told)
            connection = open_store(None, now_utc=datetime.now(UTC))
            try:
                _fill(connection, archive, told.columns)
            except BaseException:
                connection.close()
                raise
            return connection, contents
    except (OSError, EOFError, zipfile.BadZipFile, NotImplementedError, RuntimeError, zlib.error) as error:
        raise LogError("export.unreadable", file=path.name, reason=_reason(error)) from error
    except (ValueError, TypeError, RecursionError, OverflowError, msgspec.MsgspecError, sqlite3.Error) as error:
        raise LogError("export.damaged", file=path.name, reason=_reason(error)) from error


def _checked(archive: zipfile.ZipFile, path: Path) -> _Told:
    if CONTENTS not in archive.namelist():
        raise LogError("export.no_contents", file=path.name, contents=CONTENTS)
    if archive.getinfo(CONTENTS).file_size > MAX_CONTENTS_BYTES:
        raise LogError("export.contents_too_long", file=path.name, contents=CONTENTS)
    text = archive.read(CONTENTS)
    kind = msgspec.json.decode(text, type=_Kind).format
    if kind != FORMAT:
        raise LogError("export.another_format", file=path.name, given=cleaned(str(kind), 40))
    said = msgspec.json.decode(text, type=_Version)
    if said.version != FORMAT_VERSION or not {migration.name for migration in MIGRATIONS}.issuperset(said.migrations):
        raise LogError("export.by_newer", file=path.name)
    if sum(info.file_size for info in archive.infolist()) > MAX_BYTES:
        raise LogError("export.too_large", file=path.name, limit_gb=MAX_BYTES // 1000000000)
    return msgspec.json.decode(text, type=_Told)


def _contents(told: _Told) -> ExportContents:
    return ExportContents(
        player=Identity(uuid=UUID(told.player.uuid), name=cleaned(told.player.name)),
        exported_utc=datetime.fromisoformat(told.exported_utc),
        utc_offset_minutes=max(-1440, min(1440, told.utc_offset_minutes)),
        takes=told.rows.take,
        days=(told.days.first, str(told.days.last)) if told.days.first else None,
    )


def _fill(connection: sqlite3.Connection, archive: zipfile.ZipFile, columns: Mapping[str, list[str]]) -> None:
    """The rows into the empty tables. Only names of tables and columns that are ours go into a statement."""
    connection.execute("PRAGMA foreign_keys = OFF")
    room = MAX_ROWS
    with transaction(connection):
        for table in TABLES:
            names = columns.get(table, [])
            if f"{table}.jsonl" not in archive.namelist() or not names:
                continue
            if not set(names) <= set(columns_of(connection, table)) or len(set(names)) != len(names):
                raise ValueError(f"columns of {table} that are none")
            marks = ", ".join("?" * len(names))
            statement = f"INSERT INTO {table} ({', '.join(names)}) VALUES ({marks})"
            shown = [index for index, name in enumerate(names) if name in _SHOWN]
            for rows in exported_rows(archive, table, shown):
                room -= len(rows)
                if room < 0:
                    raise ValueError("too many rows")
                connection.executemany(statement, rows)
    if connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
        raise ValueError("rows refer to others that are not there")


def _reason(error: Exception) -> str:
    return cleaned(getattr(error, "strerror", None) or str(error) or type(error).__name__, 120)
