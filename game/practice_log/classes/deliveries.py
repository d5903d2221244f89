"""The files that lie in the folder of a class: whose each is, and what was known of it before.

What is known of a file stands in the file of the class (`delivery`, `refused`), by its name, size, time and digest: one
that is as it was is not opened again, whether it was read or refused.
"""

import json
import sqlite3
import time
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from uuid import UUID

from game.errors import LogError
from game.message import Message, from_plain, message, to_plain
from game.practice_log.classes.class_folder import FoundFile, FoundInFolder
from game.practice_log.classes.class_schema import REFUSED, REFUSED_COLUMNS
from game.practice_log.classes.file_owner import FileOwner, owner_of
from game.practice_log.database.migrations import transaction
from game.practice_log.transfer.erased import is_erased, mark_name
from game.practice_log.transfer.files_to_gather import hash_of

_RACY_NS = 2_000_000_000
"""A file that changed so shortly before it was read may change again without its time telling so (FAT keeps two
seconds).
"""

_REFUSE = f"INSERT OR REPLACE INTO {REFUSED} VALUES ({', '.join('?' * len(REFUSED_COLUMNS))})"
_REFUSED_FOR_GOOD = f"""
SELECT * FROM {REFUSED} WHERE digest <> '' AND json_extract(said, '$.key') <> 'transfer.cannot_be_opened'
"""
"""What could not be opened at all is tried again: a right to read it changes nothing in the file."""

_DELIVERIES = """
SELECT path, size_bytes, changed_ns, digest, student, players, exported_utc, adds, said FROM delivery
"""


@dataclass(frozen=True, slots=True)
class Delivery:
    """A file that lies there: its SHA-256 (`digest`), the ids it is of, the `student` it was taken for before, how many
    entries it then added (`adds`, None for one that is to be read), and what is to be said of it, as JSON.
    """

    file: FoundFile
    digest: str
    owner: FileOwner
    student: UUID | None = None
    adds: int | None = None
    said: str = "[]"

    @property
    def messages(self) -> list[Message]:
        """What is to be said of it."""
        return [from_plain(one) for one in json.loads(self.said)]


class Deliveries:
    """What lies in a folder, beside what the file of its class knows. What is to be said of files is added to `faults`;
    who was erased, by a mark in the folder of their file or above it, or in one of `marks`, is left out.
    """

    def __init__(
        self, connection: sqlite3.Connection, found: FoundInFolder, marks: Sequence[Path], faults: list[Message]
    ) -> None:
        self._connection, self._found, self._marks, self._faults = connection, found, marks, faults
        self._began_ns = time.time_ns()

    def that_lie_there(self) -> list[Delivery]:
        """What lies there and can be told whose it is."""
        known = {row[0]: row[1:] for row in self._connection.execute(_DELIVERIES)}
        refused = {row[0]: row[1:] for row in self._connection.execute(_REFUSED_FOR_GOOD)}
        there = []
        with transaction(self._connection):
            self._connection.execute(f"DELETE FROM {REFUSED}")
            for file in self._found.files:
                try:
                    delivery = self._delivery(file, known.get(file.name), refused.get(file.name))
                except LogError as fault:
                    self.refuse(file, fault.message)
                else:
                    there += [] if delivery is None else [delivery]
        return there

    def _delivery(
        self, file: FoundFile, known: tuple[Any, ...] | None, refused: tuple[Any, ...] | None
    ) -> Delivery | None:
        told = known or refused
        unchanged = told is not None and (file.size_bytes, file.changed_ns) == told[:2] and not self._is_racy(file)
        digest = told[2] if told is not None and unchanged else hash_of(file.path)
        if refused is not None and digest == refused[2]:
            self.refuse(file, from_plain(json.loads(refused[3])), digest)
            return None
        if known is not None and digest == known[2]:
            _, _, _, student, players, exported, adds, said = known
            owner = FileOwner(tuple(map(UUID, players.split())), "", exported)
            delivery = Delivery(file, digest, owner, UUID(bytes=student), adds, said)
        else:
            delivery = Delivery(file, digest, owner_of(file.path))
        if any(self.is_erased(uuid, file.name) for uuid in delivery.owner.ids):
            self._faults.append(message("gather.erased", file=file.path.name))
            return None
        self._faults += [
            message("gather.marked_elsewhere", mark=f"{folder}/{mark}".removeprefix("/"), file=file.name)
            for mark in map(mark_name, delivery.owner.ids)
            for folder in sorted(self._found.marks.get(mark, frozenset()) | self._found.not_ours.get(mark, frozenset()))
        ]
        return delivery

    def _is_racy(self, file: FoundFile) -> bool:
        return file.changed_ns + _RACY_NS > self._began_ns

    def is_erased(self, player: UUID, file_name: str) -> bool:
        """Whether a mark of erasure that counts for a file of this name is of this player."""
        marked = self._found.is_marked(mark_name(player), file_name)
        return marked or any(is_erased(place, player) for place in self._marks)

    def refuse(self, file: FoundFile, said: Message, digest: str = "") -> None:
        """Say of a file why it is left out, and keep that, so that it need not be read again."""
        self._faults.append(said)
        row = (file.name, file.size_bytes, file.changed_ns, digest or _digest(file), json.dumps(to_plain(said)))
        self._connection.execute(_REFUSE, row)

    def known_before(self, student: UUID) -> dict[str, str]:
        """The files that a student is made of so far, each with its digest."""
        rows = self._connection.execute("SELECT path, digest FROM delivery WHERE student = ?", (student.bytes,))
        return dict(rows.fetchall())

    def touch(self, student: UUID, deliveries: Sequence[Delivery]) -> None:
        """Keep under which time files lie there now: what is the same need not be read next time either."""
        rows = [(one.file.size_bytes, one.file.changed_ns, student.bytes, one.file.name) for one in deliveries]
        with transaction(self._connection):
            self._connection.executemany(
                "UPDATE delivery SET size_bytes = ?, changed_ns = ? WHERE student = ? AND path = ? "
                "AND (size_bytes, changed_ns) <> (?1, ?2)",
                rows,
            )


def by_student(deliveries: Collection[Delivery]) -> Mapping[UUID, list[Delivery]]:
    """The files of each student: whoever is known by one id in common is one. A student is called by the lowest id."""
    lowest: dict[UUID, UUID] = {}

    def found(uuid: UUID) -> UUID:
        while lowest.setdefault(uuid, uuid) != uuid:
            uuid = lowest[uuid]
        return uuid

    for delivery in deliveries:
        roots = {found(uuid) for uuid in delivery.owner.ids}
        lowest.update(dict.fromkeys(roots, min(roots)))
    groups: dict[UUID, list[Delivery]] = {}
    for delivery in deliveries:
        groups.setdefault(found(delivery.owner.ids[0]), []).append(delivery)
    return groups


def _digest(file: FoundFile) -> str:
    try:
        return hash_of(file.path)
    except LogError:
        return ""
