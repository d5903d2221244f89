"""The documents of a file from elsewhere: a log, a back-up, or an export of any form. Runs in the child with limits.

The first line is a `DocumentsHead`; what follows are documents as they travel.
"""

import zipfile
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import IO

import msgspec

from game.errors import LogError
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.export_contents import MAX_BYTES, export_contents, export_faults, on_one_line
from game.practice_log.foreign.plain_files import is_packed
from game.practice_log.transfer.contents import ENTRIES, FORMAT_VERSION, LONGEST_LINE, TABLES_VERSION, Whose

_HEAD = msgspec.json.Encoder()
_BLOCK_BYTES = 1_000_000


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
        from game.practice_log.foreign.documents_of_log import documents_of_log  # noqa: PLC0415 - exports need it not

        yield from documents_of_log(path)


def lines_of_export(path: Path) -> Iterator[bytes]:
    """An export as it is: documents, or for one of the first form the rows of its tables, as `rows_of_file` tells them.
    Raises `LogError` in one sentence for a file that is none.
    """
    yield from _of_zip(path, _rows_of_file)


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


def _documents_of_rows(path: Path) -> Iterator[bytes]:
    from game.practice_log.foreign.documents_of_log import documents_of_rows  # noqa: PLC0415 - exports of today need it not

    return documents_of_rows(path)


def _rows_of_file(path: Path) -> Iterator[bytes]:
    from game.practice_log.foreign.rows_of_file import rows_of_file  # noqa: PLC0415 - exports of today need it not

    return rows_of_file(path)
