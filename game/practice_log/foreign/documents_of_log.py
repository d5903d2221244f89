"""The documents of a log, and of an export of the first form, which was tables: in the child with limits."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import msgspec

from game.practice_log.database.own_player import players_with_entries
from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.documents.written_documents import document_lines
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.export_contents import export_faults
from game.practice_log.foreign.filling import log_of_lines
from game.practice_log.foreign.foreign_log import foreign_log
from game.practice_log.foreign.row_lines import decoded_lines
from game.practice_log.foreign.rows_of_file import is_of_today, log_faults, rows_of_file
from game.practice_log.rows.one_player import uuids_of_owner
from game.practice_log.transfer.contents import Whose

_HEAD = msgspec.json.Encoder()


def documents_of_log(path: Path) -> Iterator[bytes]:
    """The documents of a log: straight from one of today; one of before is made one of today first. Raises `LogError`
    in one sentence for a file that cannot be read.
    """
    with log_faults(path), foreign_log(path) as connection:
        connection.execute("BEGIN")
        if is_of_today(connection, str(path)):
            yield from _told(connection)
            return
    yield from documents_of_rows(path)


def documents_of_rows(path: Path) -> Iterator[bytes]:
    """The documents of a log of before, or of an export of the first form. Raises as above."""
    with export_faults(path):
        connection, _ = log_of_lines(decoded_lines(rows_of_file(path)), now_utc=datetime.now(UTC))
        with closing(connection):
            yield from _told(connection)


def _told(connection: sqlite3.Connection) -> Iterator[bytes]:
    players = [Whose(uuid=str(player.uuid), name=player.name) for player in players_with_entries(connection)]
    same = sorted(map(str, uuids_of_owner(connection)))
    yield _HEAD.encode(DocumentsHead(players=players, same=same)) + b"\n"
    yield from document_lines(connection, chosen_entries(connection, Choice()))
