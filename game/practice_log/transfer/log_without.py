"""A log from elsewhere, into which several played, without one of them."""

import sqlite3
from collections.abc import Collection, Iterator
from contextlib import closing, suppress
from datetime import datetime
from itertools import chain
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError, reason_of
from game.practice_log.database.identity import Identity
from game.practice_log.database.permissions import share_as_folder
from game.practice_log.database.store import open_store
from game.practice_log.documents.decoded_documents import Documents, decoded_documents
from game.practice_log.documents.documents import AskedNotes, TakeLine
from game.practice_log.documents.take_in import TakingIn
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.limited_reading import limited_lines
from game.practice_log.rows.shared_rows import put_player
from game.practice_log.transfer.contents import Whose
from game.text.clean_text import cleaned

_HEAD = msgspec.json.Decoder(DocumentsHead)
_JOURNALS = ("-wal", "-shm", "-journal")


def journals_of(path: Path) -> tuple[Path, ...]:
    """What SQLite may have left beside a file, and holds a part of what is in it (SQLite, "Temporary Files")."""
    return tuple(path.with_name(f"{path.name}{ending}") for ending in _JOURNALS)


def write_log_without(path: Path, players: Collection[UUID], *, now: datetime) -> None:
    """Write a log anew without these players, all else as it was, and put it in the place of the old one. Raises
    `LogError` for one that cannot be read whole or written now: then it stays as it is.
    """
    draft = path.with_name(f".{path.name}.unfinished")
    remains = (draft, *journals_of(draft))
    try:
        for file in remains:
            file.unlink(missing_ok=True)
        with closing(open_store(draft, now_utc=now)) as connection:
            _fill(connection, path, frozenset(map(str, players)))
            connection.execute("PRAGMA journal_mode = DELETE")
        share_as_folder(draft)
        # A journal of the old one would be taken for one of the new.
        for journal in journals_of(path):
            journal.unlink(missing_ok=True)
        draft.replace(path)
    except (sqlite3.Error, OSError) as error:
        raise LogError("erase.log_not_written", file=path, reason=reason_of(error)) from error
    finally:
        for file in remains:
            with suppress(OSError):
                file.unlink(missing_ok=True)


def _fill(connection: sqlite3.Connection, path: Path, gone: frozenset[str]) -> None:
    head, documents = _read(path)
    kept = [player for player in head.players if player.uuid not in gone]
    wanted = {player.uuid for player in kept}
    asked = {
        one.asked for some in documents for one in some.known if isinstance(one, TakeLine) and one.player in wanted
    }
    takings = [_taking(connection, player) for player in kept]
    for some in _read(path)[1]:
        known = [one for one in some.known if not isinstance(one, AskedNotes) or one.digest in asked]
        for taking in takings:
            if taking.take_in(Documents(known, some.unknown, left_out=some.left_out)).left_out:
                raise LogError("erase.log_not_whole", file=path)
    for taking in takings:
        taking.try_again()


def _read(path: Path) -> tuple[DocumentsHead, Iterator[Documents]]:
    lines = limited_lines(path, "documents")
    first, _, rest = next(lines, b"").partition(b"\n")
    return _HEAD.decode(first), decoded_documents(chain([rest], lines))


def _taking(connection: sqlite3.Connection, player: Whose) -> TakingIn:
    identity = Identity(uuid=UUID(player.uuid), name=cleaned(player.name, 60))
    return TakingIn(connection, player=put_player(connection, identity), accepted=[player.uuid])
