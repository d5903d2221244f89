"""Files that nobody of good will would hand over: what the tests and the bench of damage are made of."""

import json
import os
import socket
import sqlite3
import zipfile
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path

from game.practice_log.database.store import open_store
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun
from tests.practice_log.transfer.tables_export import write_tables


def log_of(path: Path, takes: int, *, from_minute: int = 0) -> Path:
    """A log in one file, of so many takes, the first of them that many minutes into the morning."""
    log = open_store(path, now_utc=MORNING)
    for minutes in range(from_minute, from_minute + takes):
        put_take(log, begun(minutes=minutes), DEVICE)
    log.execute("PRAGMA journal_mode = DELETE")
    log.close()
    return path


def planted(path: Path, *statements: str) -> Path:
    """The log with more in its schema than any of ours has."""
    with closing(sqlite3.connect(path, isolation_level=None)) as log, log:
        for statement in statements:
            log.execute(statement)
    log.close()
    return path


ENDLESS = "WITH RECURSIVE n(i) AS (VALUES (1) UNION ALL SELECT i + 1 FROM n) SELECT i FROM n"
"""The rows of a view that never ends."""


def endless_view(path: Path) -> Path:
    """A log in which the table of takes is a view without end."""
    columns = "device, number, player, started_utc, bars, asked, neck_map, instrument"
    return planted(path, "DROP TABLE take", f"CREATE VIEW take AS SELECT i AS take, {columns} FROM ({ENDLESS}), device")


def members_of(path: Path) -> dict[str, bytes]:
    """An export of a log, taken apart."""
    log = open_store(log_of(path, 2), now_utc=MORNING)
    write_tables(log, PLAYER, path.with_suffix(".zip"), now=MORNING)
    log.close()
    with zipfile.ZipFile(path.with_suffix(".zip")) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed_up(path: Path, members: Mapping[str, bytes]) -> Path:
    """The members as a zip."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return path


def bomb(path: Path, members: Mapping[str, bytes], *, member: str, line: bytes, times: int) -> Path:
    """An export in which one member is a line over and over: a thousand times as long as it lies in the file."""
    packed_up(path, {name: content for name, content in members.items() if name != member})
    with (
        zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive,
        archive.open(member, "w", force_zip64=True) as out,
    ):
        block = line * (1_000_000 // len(line) + 1)
        for _ in range(times * len(line) // len(block) + 1):
            out.write(block)
    return path


def told_in_contents(members: Mapping[str, bytes], **fields: object) -> dict[str, bytes]:
    """The same export, but its contents say something else."""
    contents = json.loads(members["contents.json"]) | fields
    return {**members, "contents.json": json.dumps(contents).encode()}


def no_plain_files(folder: Path) -> dict[str, Path]:
    """What is no file to be read, by the word that names it: opening some of these waits for ever."""
    os.mkfifo(folder / "pipe.zip")
    (folder / "folder.zip").mkdir()
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(folder / "s"))
    return {
        "a pipe": folder / "pipe.zip",
        "a folder": folder / "folder.zip",
        "a socket": folder / "s",
        "a device": Path("/dev/zero"),
    }
