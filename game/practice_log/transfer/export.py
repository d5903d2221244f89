"""A player's log as one file for the teacher, and back.

The file is a zip. Its first member, `contents.json`, is not packed, so that it can be read even in a text editor: who,
which days, which maps, which versions, how many takes and notes. Each further member is a table of the log, one row a
line in JSON: takes, notes asked, verdicts, and every played note with its time, so that takes can be played back.

A file from elsewhere is hostile. Nothing of it is run or opened as a database: its rows go as plain values into an
empty log of our own, with caps on their number and size.
"""

import json
import sqlite3
import zipfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

from game import __version__
from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import MIGRATIONS, transaction
from game.practice_log.database.store import open_store
from game.text.clean_text import cleaned

FORMAT, FORMAT_VERSION = "homefret practice export", 1
ENDING = ".zip"
CONTENTS = "contents.json"
MAX_CONTENTS_BYTES = 1_000_000
MAX_ROWS = 20_000_000
MAX_LINE_BYTES = 4_000_000
MAX_BYTES = 4_000_000_000
_ROWS_AT_ONCE = 5_000
_SHOWN = frozenset({"title", "name", "first", "last", "bar"})

_OWN = "take IN (SELECT take FROM take WHERE player = :player)"
_OWN_JUDGEMENT = f"judgement IN (SELECT judgement FROM judgement WHERE {_OWN})"
_USED = "{table} IN (SELECT {table} FROM take WHERE player = :player)"
_TABLES = {
    "device": "device IN (SELECT device FROM take WHERE player = :player UNION SELECT device FROM coach_event "
    "WHERE player = :player)",
    "player": "player = :player",
    "bars": _USED.format(table="bars"),
    "neck_map": _USED.format(table="neck_map"),
    "asked": _USED.format(table="asked"),
    "asked_note": _USED.format(table="asked"),
    "instrument": _USED.format(table="instrument"),
    "take": "player = :player",
    "source": f"source IN (SELECT source FROM played WHERE {_OWN})",
    "played": _OWN,
    "revised": _OWN,
    "help": _OWN,
    "name_given": _OWN,
    "judgement": _OWN,
    "verdict": _OWN_JUDGEMENT,
    "named": _OWN_JUDGEMENT,
    "answer": _OWN_JUDGEMENT,
    "event": _OWN_JUDGEMENT,
    "coach_event": "player = :player",
    "decision": "coach_event IN (SELECT coach_event FROM coach_event WHERE player = :player)",
}
"""The tables that go along, in an order in which each refers only to those before, and which rows are a player's."""


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
        """The zone as `game.practice_log.queries.figures.gathered` wants it."""
        return f"{self.utc_offset_minutes:+d} minutes"


def write_export(connection: sqlite3.Connection, player: Identity, out: Path, *, now: datetime) -> dict[str, Any]:
    """Write a player's export and return its contents. `now` knows its zone, that of the player's days.

    An older export of that name is replaced. Raises `LogError` when there is nothing of this player, or `out` cannot
    be written, is no name of a .zip, or is a file of another kind.
    """
    _refuse_to_overwrite(out)
    found = connection.execute("SELECT player FROM player WHERE uuid = ?", (str(player.uuid),)).fetchone()
    if found is None:
        raise LogError("log.nothing_export_yet_practise")
    values = {"player": found[0]}
    contents = _contents(connection, player, values, now)
    draft = out.with_name(f"{out.name}.part")
    try:
        with zipfile.ZipFile(draft, "w", zipfile.ZIP_DEFLATED) as archive:
            told = json.dumps(contents, ensure_ascii=False, indent=2)
            archive.writestr(CONTENTS, told, compress_type=zipfile.ZIP_STORED)
            for table, condition in _TABLES.items():
                with archive.open(f"{table}.jsonl", "w", force_zip64=True) as member:
                    for row in connection.execute(f"SELECT * FROM {table} WHERE {condition}", values):
                        member.write(json.dumps(row, ensure_ascii=False, separators=(",", ":")).encode() + b"\n")
        draft.replace(out)
    except OSError as error:
        raise LogError("log.export_written_name_another", out=out, strerror=error.strerror or error) from error
    finally:
        draft.unlink(missing_ok=True)
    return contents


def read_export(path: Path) -> tuple[sqlite3.Connection, ExportContents]:
    """An export as a log in memory, and what it says of itself. Close the connection after use.

    Raises `LogError` in one sentence for a file that is no export, is damaged, or was written by a newer program.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            contents, columns = _checked_contents(archive, path)
            connection = open_store(None, now_utc=datetime.now(UTC))
            try:
                _fill(connection, archive, columns)
            except BaseException:
                connection.close()
                raise
            return connection, contents
    except (OSError, EOFError, zipfile.BadZipFile, NotImplementedError, RuntimeError) as error:
        raise LogError("log.read_ask_again_2", name=path.name, reason=_reason(error)) from error
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError, OverflowError, sqlite3.Error) as error:
        raise LogError("log.damaged_ask_again", name=path.name, reason=_reason(error)) from error


def players_in(connection: sqlite3.Connection) -> tuple[Identity, ...]:
    """The players who have takes in a log, whoever played last first."""
    rows = connection.execute(
        "SELECT uuid, name FROM player JOIN take USING (player) GROUP BY player ORDER BY MAX(take) DESC"
    )
    return tuple(Identity(uuid=UUID(uuid), name=cleaned(name)) for uuid, name in rows)


def _refuse_to_overwrite(out: Path) -> None:
    """Whoever mistypes a name must not lose their log, or anything else, by it."""
    if out.suffix.lower() != ENDING:
        raise LogError("log.export_zip_file_give", out=out, ending=ENDING)
    if not out.exists():
        return
    try:
        with zipfile.ZipFile(out) as archive:
            ours = CONTENTS in archive.namelist()
    except (OSError, zipfile.BadZipFile):
        ours = False
    if not ours:
        raise LogError("log.already_export_name_new", out=out)


def _contents(
    connection: sqlite3.Connection, player: Identity, values: dict[str, int], now: datetime
) -> dict[str, Any]:
    offset = now.utcoffset() or timedelta()
    zone = f"{offset.total_seconds() / 60:+.0f} minutes"
    first, last, practised = connection.execute(
        "SELECT MIN(date(started_utc, :zone)), MAX(date(started_utc, :zone)), COUNT(DISTINCT date(started_utc, :zone)) "
        "FROM take WHERE player = :player",
        {**values, "zone": zone},
    ).fetchone()
    maps = connection.execute(
        f"SELECT position, tuning, reading FROM neck_map WHERE {_TABLES['neck_map']}",
        values,
    )
    counts = {
        table: connection.execute(f"SELECT count(*) FROM {table} WHERE {condition}", values).fetchone()[0]
        for table, condition in _TABLES.items()
    }
    return {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        "says": "What one player practised with Homefret. Open it with: homefret report --from FOLDER",
        "program": __version__,
        "exported_utc": now.astimezone(UTC).isoformat(timespec="seconds"),
        "utc_offset_minutes": round(offset.total_seconds() / 60),
        "player": {"uuid": str(player.uuid), "name": player.name},
        "days": {"first": first, "last": last, "practised": practised},
        "maps": [{"position": position, "tuning": tuning, "read": reading} for position, tuning, reading in maps],
        "migrations": [migration.name for migration in MIGRATIONS],
        "judges": [judge for (judge,) in connection.execute("SELECT DISTINCT judge FROM judgement ORDER BY judge")],
        "rows": counts,
        "columns": {table: _columns(connection, table) for table in _TABLES},
    }


def _checked_contents(archive: zipfile.ZipFile, path: Path) -> tuple[ExportContents, dict[str, list[str]]]:
    if CONTENTS not in archive.namelist():
        raise LogError("log.export_homefret_holds", name=path.name, contents=CONTENTS)
    if archive.getinfo(CONTENTS).file_size > MAX_CONTENTS_BYTES:
        raise LogError("log.export_homefret_too_long", name=path.name, contents=CONTENTS)
    told = json.loads(archive.read(CONTENTS))
    if told["format"] != FORMAT:
        raise LogError("log.export_homefret_says", name=path.name, told=cleaned(str(told["format"]), 40))
    unknown = [str(name) for name in told["migrations"] if name not in {migration.name for migration in MIGRATIONS}]
    if told["version"] != FORMAT_VERSION or unknown:
        raise LogError("log.written_newer_homefret_update_2", name=path.name)
    if sum(info.file_size for info in archive.infolist()) > MAX_BYTES:
        raise LogError("log.holds_more_than_gb", name=path.name, value=MAX_BYTES // 1000000000)
    days = told["days"]
    contents = ExportContents(
        player=Identity(uuid=UUID(told["player"]["uuid"]), name=cleaned(str(told["player"]["name"]))),
        exported_utc=datetime.fromisoformat(told["exported_utc"]),
        utc_offset_minutes=max(-1440, min(1440, int(told["utc_offset_minutes"]))),
        takes=int(told["rows"]["take"]),
        days=(str(days["first"]), str(days["last"])) if days["first"] else None,
    )
    return contents, told["columns"]


def _fill(connection: sqlite3.Connection, archive: zipfile.ZipFile, columns: dict[str, list[str]]) -> None:
    """The rows into the empty tables. Only names of tables and columns that are ours go into a statement."""
    connection.execute("PRAGMA foreign_keys = OFF")
    room = MAX_ROWS
    with transaction(connection):
        for table in _TABLES:
            names = columns.get(table, [])
            known = _columns(connection, table)
            if f"{table}.jsonl" not in archive.namelist() or not names:
                continue
            if not set(names) <= set(known) or len(set(names)) != len(names):
                raise ValueError(f"columns of {table} that are none")
            marks = ", ".join("?" * len(names))
            statement = f"INSERT INTO {table} ({', '.join(names)}) VALUES ({marks})"
            shown = [index for index, name in enumerate(names) if name in _SHOWN]
            room = _fill_table(connection, statement, _rows(archive, table, shown), room)
    if connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
        raise ValueError("rows refer to others that are not there")


def _fill_table(connection: sqlite3.Connection, statement: str, rows: Iterator[list[Any]], room: int) -> int:
    """Put rows in; how many more there may be."""
    several: list[list[Any]] = []
    for row in rows:
        room -= 1
        if room < 0:
            raise ValueError("too many rows")
        several.append(row)
        if len(several) == _ROWS_AT_ONCE:
            connection.executemany(statement, several)
            several.clear()
    connection.executemany(statement, several)
    return room


def _rows(archive: zipfile.ZipFile, table: str, shown: list[int]) -> Iterator[list[Any]]:
    """The rows of a table, text that people will see made clean."""
    with closing(archive.open(f"{table}.jsonl")) as member:
        while line := member.readline(MAX_LINE_BYTES):
            row = json.loads(line)
            if not isinstance(row, list):
                raise TypeError("a row that is none")
            for index in shown:
                row[index] = cleaned(str(row[index]))
            yield row


def _columns(connection: sqlite3.Connection, table: str) -> list[str]:
    return [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]


def _reason(error: Exception) -> str:
    return cleaned(getattr(error, "strerror", None) or str(error) or type(error).__name__, 120)
