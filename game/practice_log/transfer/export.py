"""A player's log as one file for the teacher (see `game.practice_log.transfer.contents`)."""

import sqlite3
import zipfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec

from game import __version__
from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import MIGRATIONS, columns_of
from game.practice_log.database.permissions import OWNER_ONLY, share_where_meant
from game.practice_log.transfer.contents import (
    CONTENTS,
    ENDING,
    FORMAT,
    FORMAT_VERSION,
    TABLES,
    Contents,
    PractisedDays,
    PractisedMap,
    Whose,
)

_SAYS = "What one player practised with Homefret. Open it with: homefret report --from FOLDER"


def write_export(connection: sqlite3.Connection, player: Identity, out: Path, *, now: datetime) -> Contents:
    """Write a player's export and return its contents. `now` knows its zone, that of the player's days.

    An older export of that name is replaced. Raises `LogError` when there is nothing of this player, or `out` cannot
    be written, is no name of a .zip, or is a file of another kind.
    """
    _refuse_to_overwrite(out)
    found = connection.execute("SELECT player FROM player WHERE uuid = ?", (str(player.uuid),)).fetchone()
    if found is None:
        raise LogError("export.nothing_yet")
    values = {"player": found[0]}
    contents = _contents(connection, player, values, now)
    draft = out.with_name(f"{out.name}.part")
    try:
        draft.touch(mode=OWNER_ONLY)
        with zipfile.ZipFile(draft, "w", zipfile.ZIP_DEFLATED) as archive:
            _write(archive, contents, connection, values)
        share_where_meant(draft)
        draft.replace(out)
    except OSError as error:
        raise LogError("export.cannot_be_written", file=out, reason=error.strerror or error) from error
    finally:
        draft.unlink(missing_ok=True)
    return contents


def _write(
    archive: zipfile.ZipFile, contents: Contents, connection: sqlite3.Connection, values: dict[str, int]
) -> None:
    told = msgspec.json.format(msgspec.json.encode(contents), indent=2)
    archive.writestr(CONTENTS, told, compress_type=zipfile.ZIP_STORED)
    encoder = msgspec.json.Encoder()
    for table, condition in TABLES.items():
        with archive.open(f"{table}.jsonl", "w", force_zip64=True) as member:
            for row in connection.execute(f"SELECT * FROM {table} WHERE {condition}", values):
                member.write(encoder.encode(row) + b"\n")


def _refuse_to_overwrite(out: Path) -> None:
    """Whoever mistypes a name must not lose their log, or anything else, by it."""
    if out.suffix.lower() != ENDING:
        raise LogError("export.no_zip_name", file=out, ending=ENDING)
    if not out.exists():
        return
    try:
        with zipfile.ZipFile(out) as archive:
            ours = CONTENTS in archive.namelist()
    except (OSError, zipfile.BadZipFile):
        ours = False
    if not ours:
        raise LogError("export.already_there", file=out)


def _contents(connection: sqlite3.Connection, player: Identity, values: dict[str, int], now: datetime) -> Contents:
    offset = now.utcoffset() or timedelta()
    judges = connection.execute("SELECT DISTINCT judge FROM judgement ORDER BY judge")
    return Contents(
        format=FORMAT,
        version=FORMAT_VERSION,
        says=_SAYS,
        program=__version__,
        exported_utc=now.astimezone(UTC).isoformat(timespec="seconds"),
        utc_offset_minutes=round(offset.total_seconds() / 60),
        player=Whose(uuid=str(player.uuid), name=player.name),
        days=_days(connection, values, offset),
        maps=_maps(connection, values),
        migrations=[migration.name for migration in MIGRATIONS],
        judges=[judge for (judge,) in judges],
        rows={
            table: connection.execute(f"SELECT count(*) FROM {table} WHERE {condition}", values).fetchone()[0]
            for table, condition in TABLES.items()
        },
        columns={table: columns_of(connection, table) for table in TABLES},
    )


def _days(connection: sqlite3.Connection, values: dict[str, int], offset: timedelta) -> PractisedDays:
    first, last, practised = connection.execute(
        "SELECT MIN(date(started_utc, :zone)), MAX(date(started_utc, :zone)), COUNT(DISTINCT date(started_utc, :zone)) "
        "FROM take WHERE player = :player",
        {**values, "zone": f"{offset.total_seconds() / 60:+.0f} minutes"},
    ).fetchone()
    return PractisedDays(first=first, last=last, practised=practised)


def _maps(connection: sqlite3.Connection, values: dict[str, int]) -> list[PractisedMap]:
    rows = connection.execute(f"SELECT position, tuning, reading FROM neck_map WHERE {TABLES['neck_map']}", values)
    return [PractisedMap(position=position, tuning=tuning, read=reading) for position, tuning, reading in rows]
