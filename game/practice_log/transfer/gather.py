"""Logs, back-ups and exports of one player brought together in their log: in any order, repeated, interrupted.

A file that was taken in is known again by its hash, and passed over. What cannot be read is told, and the rest taken
in. Another player's file is refused, unless its player is said to be the same one; then that is a fact of the log, and
holds from then on.
"""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, field
from datetime import datetime
from itertools import chain
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError, reason_of
from game.message import Message, message
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import transaction
from game.practice_log.database.opening import open_own
from game.practice_log.database.own_device import own_device
from game.practice_log.database.own_player import own_player, player_of_log
from game.practice_log.documents.decoded_documents import decoded_documents, nothing_collected
from game.practice_log.documents.document_batch import TakenIn
from game.practice_log.documents.take_in import TakingIn
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.limited_reading import limited_lines
from game.practice_log.rows.entry_rows import About, Recorded, put_clocks_right, put_fact
from game.practice_log.rows.one_player import uuids_of_owner
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.transfer.contents import Whose
from game.practice_log.transfer.erased import is_erased
from game.practice_log.transfer.files_to_gather import FileToGather, files_in, hash_in_name, hash_of
from game.text.clean_text import cleaned

_HEAD = msgspec.json.Decoder(DocumentsHead)
_SENSELESS = (ValueError, TypeError, OverflowError, RecursionError, msgspec.MsgspecError)


@dataclass(slots=True)
class Gathered:
    """What was gathered: how many `files` were read or known already, what `came` of them, `devices` by their ids, and
    what could not be read, a sentence each.
    """

    files: int = 0
    came: TakenIn = field(default_factory=TakenIn)
    devices: set[str] = field(default_factory=set)
    faults: list[Message] = field(default_factory=list)


def gather(log: Path, paths: Sequence[Path], *, now: datetime, as_one: bool = False) -> Gathered:
    """Gather files, and what lies in folders, into the log of the player of a folder; `now` is in their zone. `as_one`
    says that whoever the files are of is this player.

    Raises `LogError` where the log itself cannot be opened or written.
    """
    with gathering(log, now, as_one=as_one) as under_way:
        for file in files_in(paths):
            if not (log.exists() and _same_file(log, file.path)):
                under_way.take_in_file(file)
        under_way.finish()
        return under_way.gathered


@contextmanager
def gathering(log: Path, now: datetime, *, as_one: bool = False) -> Iterator["Gathering"]:
    """Gathering into a log, which is opened for it."""
    try:
        with closing(open_own(log, now=now)) as connection:
            # All numbers that stand in the rows are our own: looking each of them up again takes a tenth of the time.
            connection.execute("PRAGMA foreign_keys = OFF")
            yield Gathering(connection, log, now, as_one=as_one)
    except (sqlite3.Error, OSError) as error:
        raise LogError("gather.cannot_be_written", log=log, reason=reason_of(error)) from error


class Gathering:
    """Gathering under way; `gathered` is what came so far."""

    def __init__(self, connection: sqlite3.Connection, log: Path, now: datetime, *, as_one: bool) -> None:
        self.connection, self.gathered = connection, Gathered()
        self._log, self._now, self._as_one = log, now, as_one
        self._player = player_of_log(log)

    def take_in_file(self, file: FileToGather, *, slot: str | None = None) -> None:
        """Take in a file, or say why not. One that is written anew again and again is known by its `slot`."""
        try:
            self._take_in(file, slot)
        except LogError as fault:
            self.gathered.faults.append(fault.message)

    def finish(self) -> None:
        """Look again at what was only kept so far, and at clocks that are ahead."""
        player = self._own()
        if player is None:
            return
        with transaction(self.connection):
            number = put_player(self.connection, player)
        self.gathered.came.add(TakingIn(self.connection, player=number, accepted=self._accepted(player)).try_again())
        with transaction(self.connection):
            put_clocks_right(self.connection, self._recorded(player))
        # The file beside the log says who its player is, too.
        own_player(self._log)

    def _own(self) -> Identity | None:
        """Whose log it is: None as long as nothing is in it."""
        self._player = self._player or player_of_log(self._log)
        return self._player

    def _take_in(self, file: FileToGather, slot: str | None) -> None:
        told = hash_in_name(file.path)
        name = told or hash_of(file.path)
        if self._is_taken_in(name, slot):
            self.gathered.files += 1
            return
        if told and told != hash_of(file.path):
            raise LogError("gather.not_whole", file=file.path.name)
        came = self._came_of(file.path)
        with transaction(self.connection):
            holds = msgspec.json.encode({"hash": name, "devices": came.holds}).decode()
            self.connection.execute("INSERT OR REPLACE INTO taken_in VALUES (?, ?)", (slot or name, holds))
        self.gathered.files += 1
        self.gathered.came.add(came)
        self.gathered.devices |= came.holds.keys()
        for key, count in (("left_out", came.left_out), ("others", came.others), ("clashes", came.clashes)):
            if count:
                self.gathered.faults.append(message(f"gather.{key}", file=file.path.name, count=count))

    def _is_taken_in(self, name: str, slot: str | None) -> bool:
        found = self.connection.execute("SELECT holds FROM taken_in WHERE name = ?", (slot or name,)).fetchone()
        return found is not None and (slot is None or msgspec.json.decode(found[0])["hash"] == name)

    def _came_of(self, path: Path) -> TakenIn:
        lines = limited_lines(path, "documents")
        came = TakenIn()
        with _told(path):
            first, _, rest = next(lines, b"").partition(b"\n")
            taking = self._taking(path, _HEAD.decode(first))
            if taking is not None:
                with nothing_collected():
                    for documents in decoded_documents(chain([rest], lines)):
                        came.add(taking.take_in(documents))
        return came

    def _taking(self, path: Path, head: DocumentsHead) -> TakingIn | None:
        """How a file is taken in; None where nobody's entries are in it. Raises `LogError` for another player's."""
        ids = _ids(head)
        if not ids:
            return None
        if any(is_erased(self._log.parent, UUID(uuid)) for uuid in ids):
            raise LogError("gather.erased", file=path.name)
        player = self._own() or _identity(head.players[0])
        accepted = self._accepted(player)
        if not ids & accepted and not self._as_one:
            raise LogError("gather.another_player", file=path.name, name=cleaned(head.players[0].name, 60) or path.name)
        self._player = player
        with transaction(self.connection):
            number = put_player(self.connection, player)
            for uuid in sorted({str(UUID(one.uuid)) for one in head.players} - accepted):
                put_fact(self.connection, self._recorded(player), About.SAME_PLAYER, {"player": uuid})
        return TakingIn(self.connection, player=number, accepted=accepted | ids)

    def _accepted(self, player: Identity) -> frozenset[str]:
        return frozenset(map(str, uuids_of_owner(self.connection))) | {str(player.uuid)}

    def _recorded(self, player: Identity) -> Recorded:
        device = own_device(self._log.parent)
        return Recorded(put_device(self.connection, device), put_player(self.connection, player), self._now)


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """What makes no sense in a file from elsewhere is said in one sentence."""
    try:
        yield
    except _SENSELESS as error:
        reason = cleaned(str(error) or type(error).__name__, 120)
        raise LogError("export.damaged", file=path.name, reason=reason) from error


def _ids(head: DocumentsHead) -> frozenset[str]:
    """By which ids the player of a file is known. Raises `ValueError` for what is no id."""
    return frozenset(str(UUID(uuid)) for uuid in _all_ids(head))


def _all_ids(head: DocumentsHead) -> Iterable[str]:
    yield from (player.uuid for player in head.players)
    yield from head.same


def _identity(player: Whose) -> Identity:
    return Identity(uuid=UUID(player.uuid), name=cleaned(player.name, 60))


def _same_file(one: Path, other: Path) -> bool:
    with suppress(OSError):
        return one.samefile(other)
    return False
