"""The documents of a file from elsewhere: a log, a back-up, or an export of any form. Runs in the child with limits.

The first line is a `DocumentsHead`; what follows are documents as they travel.
"""

import sqlite3
import zipfile
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import IO

import msgspec

from game.errors import LogError
from game.practice_log.database.own_player import players_with_entries
from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.documents.decoded_documents import LONGEST_LINE
from game.practice_log.documents.written_documents import document_lines
from game.practice_log.foreign.export_members import MAX_BYTES, export_contents, on_one_line
from game.practice_log.foreign.filling import log_of_lines
from game.practice_log.foreign.foreign_log import foreign_log
from game.practice_log.foreign.limited_reading import is_packed
from game.practice_log.foreign.row_lines import decoded_lines
from game.practice_log.foreign.rows_of_file import export_faults, is_of_today, log_faults, rows_of_file
from game.practice_log.rows.one_player import uuids_of_owner
from game.practice_log.transfer.contents import ENTRIES, FORMAT_VERSION, TABLES_VERSION, Whose

_HEAD = msgspec.json.Encoder()
_BLOCK_BYTES = 1_000_000


class DocumentsHead(msgspec.Struct, frozen=True, kw_only=True, tag="documents"):
    """Whose entries a file holds, `same` all ids that are theirs, and the `contents.json` of an export."""

    players: list[Whose]
    same: list[str]
    contents: msgspec.Raw = msgspec.Raw(b"null")


class _Version(msgspec.Struct, frozen=True):
    version: object


class _Said(msgspec.Struct, frozen=True):
    player: Whose
    same_players: list[str]


def documents_of_file(path: Path) -> Iterator[bytes]:
    """The documents of a file. Raises `LogError` in one sentence for one that cannot be read."""
    if is_packed(path):
        yield from _of_zip(path, _documents_of_rows)
    else:
        yield from _documents_of_log(path)


def lines_of_export(path: Path) -> Iterator[bytes]:
    """An export as it is: documents, or for one of the first form the rows of its tables, as `rows_of_file` tells them.
    Raises `LogError` in one sentence for a file that is none.
    """
    yield from _of_zip(path, rows_of_file)


def _of_zip(path: Path, in_tables: Callable[[Path], Iterator[bytes]]) -> Iterator[bytes]:
    with export_faults(path), closing(zipfile.ZipFile(path)) as archive:
        text = export_contents(archive, path.name)
        version = msgspec.json.decode(text, type=_Version).version
        if version == FORMAT_VERSION:
            yield from _of_entries(archive, text, path)
            return
    if version != TABLES_VERSION:
        raise LogError("export.by_newer", file=path.name)
    yield from in_tables(path)


def _of_entries(archive: zipfile.ZipFile, text: bytes, path: Path) -> Iterator[bytes]:
    if sum(info.file_size for info in archive.infolist()) > MAX_BYTES:
        raise LogError("export.too_large", file=path.name, limit_gb=MAX_BYTES // 1_000_000_000)
    said = msgspec.json.decode(text, type=_Said)
    head = DocumentsHead(players=[said.player], same=said.same_players, contents=on_one_line(text))
    yield _HEAD.encode(head) + b"\n"
    if ENTRIES in archive.namelist():
        with archive.open(ENTRIES) as member:
            yield from _whole_lines(member)


def _whole_lines(member: IO[bytes]) -> Iterator[bytes]:
    """The lines of a member, each with its end, many at a time. Raises `ValueError` for one without end."""
    left = b""
    while block := member.read(_BLOCK_BYTES):
        lines = left + block
        end = lines.rfind(b"\n") + 1
        left = lines[end:]
        if len(left) > LONGEST_LINE:
            raise ValueError("a line without end")
        yield lines[:end]
    if left:
        yield left + b"\n"


def _documents_of_log(path: Path) -> Iterator[bytes]:
    """Straight from a log of today; one of before is made one of today first."""
    with log_faults(path), foreign_log(path) as connection:
        connection.execute("BEGIN")
        if is_of_today(connection, str(path)):
            yield from _told(connection)
            return
    yield from _documents_of_rows(path)


def _documents_of_rows(path: Path) -> Iterator[bytes]:
    with export_faults(path):
        connection, _ = log_of_lines(decoded_lines(rows_of_file(path)), now_utc=datetime.now(UTC))
        with closing(connection):
            yield from _told(connection)


def _told(connection: sqlite3.Connection) -> Iterator[bytes]:
    players = [Whose(uuid=str(player.uuid), name=player.name) for player in players_with_entries(connection)]
    same = sorted(map(str, uuids_of_owner(connection)))
    yield _HEAD.encode(DocumentsHead(players=players, same=same)) + b"\n"
    yield from document_lines(connection, chosen_entries(connection, Choice()))
