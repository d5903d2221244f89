"""Exports of the first form, a table a member, as programs of before wrote them: for the tests of how they are read."""

import json
import zipfile
from datetime import UTC, timedelta

from game import __version__
from game.practice_log.database.known_tables import known_columns
from game.practice_log.transfer.contents import CONTENTS, FORMAT, TABLES

MIGRATIONS_THEN = ["takes", "names given", "coach", "revised"]


def columns_then(table):
    """The columns that programs of before knew."""
    return known_columns(len(MIGRATIONS_THEN))[table]


def write_tables(connection, player, out, *, now):
    """Write a player's export; `now` knows its zone."""
    (number,) = connection.execute("SELECT player FROM player WHERE uuid = ?", (str(player.uuid),)).fetchone()
    rows = {
        table: connection.execute(
            f"SELECT {', '.join(columns_then(table))} FROM {table} WHERE {condition}", {"player": number}
        ).fetchall()
        for table, condition in TABLES.items()
    }
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(CONTENTS, json.dumps(contents_of(player, rows, now)), zipfile.ZIP_STORED)
        for table, of_table in rows.items():
            archive.writestr(f"{table}.jsonl", "".join(f"{json.dumps(row)}\n" for row in of_table))


def contents_of(player, rows, now):
    days = sorted({started[:10] for started in column(rows, "take", "started_utc")})
    return {
        "format": FORMAT,
        "version": 1,
        "says": "What one player practised with Homefret. Open it with: homefret report --from FOLDER",
        "program": __version__,
        "exported_utc": now.astimezone(UTC).isoformat(timespec="seconds"),
        "utc_offset_minutes": (now.utcoffset() or timedelta()) // timedelta(minutes=1),
        "player": {"uuid": str(player.uuid), "name": player.name},
        "days": {"first": days[0] if days else None, "last": days[-1] if days else None, "practised": len(days)},
        "maps": [],
        "migrations": MIGRATIONS_THEN,
        "judges": sorted(set(column(rows, "judgement", "judge"))),
        "rows": {table: len(of_table) for table, of_table in rows.items()},
        "columns": {table: columns_then(table) for table in TABLES},
    }


def column(rows, table, name):
    index = columns_then(table).index(name)
    return [row[index] for row in rows[table]]
