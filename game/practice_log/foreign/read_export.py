"""A log or an export from elsewhere as a log of our own that nobody else sees.

A file from elsewhere is hostile: a child with limits reads it, and only plain values come from there.
"""

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import chain
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError, reason_of
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.documents.decoded_documents import decoded_documents
from game.practice_log.documents.document_batch import TakenIn
from game.practice_log.documents.take_in import TakingIn
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.filling import log_of_lines, write_log
from game.practice_log.foreign.limited_reading import limited_lines
from game.practice_log.foreign.row_lines import FileHead, decoded_lines
from game.practice_log.rows.shared_rows import put_player
from game.practice_log.transfer.contents import Whose
from game.text.clean_text import cleaned

_HEAD: msgspec.json.Decoder[FileHead | DocumentsHead] = msgspec.json.Decoder(FileHead | DocumentsHead)


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


def read_export(path: Path) -> tuple[sqlite3.Connection, ExportContents]:
    """An export as a log of our own, and what it says of itself. Close the connection after use.

    Raises `LogError` in one sentence for a file that is no export, is damaged, or was written by a newer program.
    """
    with _made_sense(path):
        lines = limited_lines(path, "export")
        first, rest = _first_line(lines)
        head = _HEAD.decode(first)
        contents = _contents(msgspec.json.decode(head.contents, type=_Told))
        blocks = chain([rest], lines)
        if isinstance(head, DocumentsHead):
            return _of_documents(blocks, contents.player), contents
        connection, _ = log_of_lines(decoded_lines(chain([first], blocks)), now_utc=datetime.now(UTC))
        return connection, contents


def _first_line(lines: Iterator[bytes]) -> tuple[bytes, bytes]:
    first, end, rest = next(lines, b"").partition(b"\n")
    return first + end, rest


def _of_documents(blocks: Iterable[bytes], player: Identity) -> sqlite3.Connection:
    connection, _ = log_of_lines([[FileHead(migrations=[step.name for step in MIGRATIONS])]], now_utc=datetime.now(UTC))
    try:
        taking = TakingIn(connection, player=put_player(connection, player), accepted=[str(player.uuid)])
        for documents in decoded_documents(blocks):
            _refuse_senseless(taking.take_in(documents))
    except BaseException:
        connection.close()
        raise
    return connection


def _refuse_senseless(came: TakenIn) -> None:
    if came.left_out:
        raise ValueError(f"{came.left_out} lines make no sense")


def read_log(path: Path) -> sqlite3.Connection:
    """A log from elsewhere as one of our own. Close the connection after use. Raises `LogError` in one sentence."""
    with _made_sense(path):
        return _read(path)[0]


def _read(path: Path) -> tuple[sqlite3.Connection, FileHead]:
    return log_of_lines(decoded_lines(limited_lines(path, "rows")), now_utc=datetime.now(UTC))


def write_copy(source: Path, target: Path, *, now_utc: datetime) -> None:
    """The rows of a log from elsewhere as a new log in the file `target`, which is not there yet or empty.

    Raises `LogError` in one sentence for what is wrong with the source, `sqlite3.Error` where the target cannot be
    written.
    """
    with _rows_make_sense(source):
        write_log(target, decoded_lines(limited_lines(source, "rows")), now_utc=now_utc)


@dataclass(frozen=True, slots=True, kw_only=True)
class Salvaged:
    """Of a damaged log, how many takes are gone, as far as that is known, and how many are there in part."""

    takes_lost: int
    takes_in_part: int


def write_salvaged(source: Path, target: Path, *, now_utc: datetime) -> Salvaged:
    """As `write_copy`, what can be read of a damaged log."""
    with _rows_make_sense(source):
        head = write_log(target, decoded_lines(limited_lines(source, "salvaged rows")), now_utc=now_utc)
    return Salvaged(takes_lost=head.takes_lost, takes_in_part=head.takes_in_part)


@contextmanager
def _made_sense(path: Path) -> Iterator[None]:
    try:
        with _rows_make_sense(path):
            yield
    except sqlite3.Error as error:
        raise LogError("transfer.cannot_be_opened", file=path.name, reason=reason_of(error)) from error


@contextmanager
def _rows_make_sense(path: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.OperationalError:
        raise  # a full disk, say: nothing that rows can bring about
    except (ValueError, TypeError, OverflowError, RecursionError, msgspec.MsgspecError, sqlite3.Error) as error:
        reason = cleaned(str(error) or type(error).__name__, 120)
        raise LogError("export.damaged", file=path.name, reason=reason) from error


def _contents(told: _Told) -> ExportContents:
    return ExportContents(
        player=Identity(uuid=UUID(told.player.uuid), name=cleaned(told.player.name)),
        exported_utc=datetime.fromisoformat(told.exported_utc),
        utc_offset_minutes=max(-1440, min(1440, told.utc_offset_minutes)),
        takes=told.rows.take,
        days=(told.days.first, str(told.days.last)) if told.days.first else None,
    )
