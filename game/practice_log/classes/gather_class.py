"""A folder of exports, logs and shared folders gathered into the file of a class, student by student.

What is kept is what the files that lie there now come to, whatever was gathered before and in whatever order: who is no
longer in any of them is no longer in the class. Only students of whom a file came, went or changed are gone through
again, each in a transaction of their own: however it ends, the file is one that can be used, and the next time goes on.
"""

import json
import sqlite3
import time
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from uuid import UUID

from game.errors import HomefretError, LogError
from game.message import Message, from_plain, message, to_plain
from game.practice_log.classes.class_file import forget_student, open_class, settle_class
from game.practice_log.classes.class_folder import FoundFile, FoundInFolder, found_in
from game.practice_log.classes.class_schema import REFUSED, REFUSED_COLUMNS, insert_statement
from game.practice_log.classes.class_writing import PartsOf, no_parts, put_practice
from game.practice_log.classes.file_owner import FileOwner, owner_of
from game.practice_log.classes.student_log import StudentLog, student_log, told_of
from game.practice_log.database.migrations import transaction
from game.practice_log.database.own_player import players_with_entries
from game.practice_log.documents.decoded_documents import nothing_collected
from game.practice_log.transfer.erased import is_erased, mark_name
from game.practice_log.transfer.files_to_gather import hash_of

_RACY_NS = 2_000_000_000
"""A file that changed so shortly before it was read may change again without its time telling so (FAT keeps two
seconds).
"""

_NONSENSE = (ValueError, TypeError, LookupError, AttributeError, ArithmeticError, RecursionError)
_REFUSE = f"INSERT OR REPLACE INTO {REFUSED} VALUES ({', '.join('?' * len(REFUSED_COLUMNS))})"
_DELIVERIES = """
SELECT path, size_bytes, changed_ns, digest, student, players, exported_utc, adds, said FROM delivery
"""


@dataclass(slots=True)
class GatheredClass:
    """What was gathered: how many `students` there are, of how many something was new (`changed`), how many files were
    `read`, how many `takes` put in, and what is to be said of files, a sentence each: also what was said before of
    those that lie there still.
    """

    students: int = 0
    changed: int = 0
    read: int = 0
    takes: int = 0
    faults: list[Message] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Delivery:
    """A file that lies there: what is known of it. `adds` is None for one that is to be read."""

    file: FoundFile
    digest: str
    owner: FileOwner
    student: UUID | None = None
    adds: int | None = None
    said: str = "[]"


def gather_class(
    folder: Path, into: Path, *, marks: Iterable[Path] = (), parts_of: PartsOf = no_parts
) -> GatheredClass:
    """Gather a folder into the file of a class, which is made where it is not there. Who was erased, by a mark in the
    folder or in one of `marks`, is left out, and taken out. `parts_of` says what was set and done in a log.

    Raises `LogError` for a folder or a file that cannot be read or written at all.
    """
    found = found_in(folder, into)
    with open_class(into) as connection:
        gathering = _ClassGathering(connection, found, tuple(marks), parts_of)
        gathering.gather()
        return gathering.told


class _ClassGathering:
    """Gathering under way."""

    def __init__(
        self, connection: sqlite3.Connection, found: FoundInFolder, marks: Sequence[Path], parts_of: PartsOf
    ) -> None:
        self._connection, self._found, self._marks, self._parts_of = connection, found, marks, parts_of
        self._began_ns = time.time_ns()
        self.told = GatheredClass()

    def gather(self) -> None:
        lies_there = self._deliveries()
        groups = _by_student(lies_there)
        with transaction(self._connection):
            for student in self._students() - groups.keys():
                forget_student(self._connection, student)
        for student, deliveries in sorted(groups.items()):
            self._gather(student, deliveries)
        if self.told.changed:
            settle_class(self._connection)
        self.told.students = len(self._students())

    def _students(self) -> set[UUID]:
        return {UUID(bytes=student) for (student,) in self._connection.execute("SELECT student FROM student")}

    def _deliveries(self) -> list[_Delivery]:
        """What lies there and can be told whose it is."""
        known = {row[0]: row[1:] for row in self._connection.execute(_DELIVERIES)}
        refused = {row[0]: row[1:] for row in self._connection.execute(f"SELECT * FROM {REFUSED}")}
        there = []
        with transaction(self._connection):
            self._connection.execute(f"DELETE FROM {REFUSED}")
            for file in self._found.files:
                try:
                    delivery = self._delivery(file, known.get(file.name), refused.get(file.name))
                except LogError as fault:
                    self._refuse(file, fault.message)
                else:
                    there += [] if delivery is None else [delivery]
        return there

    def _delivery(
        self, file: FoundFile, known: tuple[Any, ...] | None, refused: tuple[Any, ...] | None
    ) -> _Delivery | None:
        told = known or refused
        unchanged = told is not None and (file.size_bytes, file.changed_ns) == told[:2] and not self._is_racy(file)
        digest = told[2] if told is not None and unchanged else hash_of(file.path)
        if refused is not None and digest == refused[2]:
            self._refuse(file, from_plain(json.loads(refused[3])), digest)
            return None
        if known is not None and digest == known[2]:
            _, _, _, student, players, exported, adds, said = known
            owner = FileOwner(tuple(map(UUID, players.split())), "", exported)
            delivery = _Delivery(file, digest, owner, UUID(bytes=student), adds, said)
        else:
            delivery = _Delivery(file, digest, owner_of(file.path))
        if any(self._is_erased(uuid) for uuid in delivery.owner.ids):
            self.told.faults.append(message("gather.erased", file=file.path.name))
            return None
        return delivery

    def _is_racy(self, file: FoundFile) -> bool:
        return file.changed_ns + _RACY_NS > self._began_ns

    def _is_erased(self, player: UUID) -> bool:
        return mark_name(player) in self._found.marks or any(is_erased(place, player) for place in self._marks)

    def _refuse(self, file: FoundFile, said: Message, digest: str = "") -> None:
        """Say of a file why it is left out, and keep that, so that it need not be read again."""
        self.told.faults.append(said)
        row = (file.name, file.size_bytes, file.changed_ns, digest or _digest(file), json.dumps(to_plain(said)))
        self._connection.execute(_REFUSE, row)

    def _gather(self, student: UUID, deliveries: Sequence[_Delivery]) -> None:
        """Bring one student up to date where something of theirs changed."""
        before = self._known_before(student)
        now = {delivery.file.name: delivery.digest for delivery in deliveries}
        if before == now and all(delivery.adds is not None for delivery in deliveries):
            self._say_again(deliveries)
            self._touch(student, deliveries)
            return
        # What a file adds that was read before stays so, as long as all that was read with it is there.
        only_more = before.items() <= now.items()
        left = [one for one in deliveries if not only_more or one.adds is None or one.adds]
        left.sort(key=lambda one: (one.owner.exported_utc, one.file.name), reverse=True)
        try:
            with nothing_collected(), student_log(student, [(one.file.path, one.owner) for one in left]) as log:
                self._put(student, deliveries, log)
        except (HomefretError, *_NONSENSE) as fault:
            self._refuse_all(student, deliveries, fault)

    def _put(self, student: UUID, deliveries: Sequence[_Delivery], log: StudentLog) -> None:
        read = [one for one in deliveries if one.file.path not in log.refused]
        self.told.read += len(log.came) + len(log.refused)
        with transaction(self._connection):
            for one in deliveries:
                if one.file.path in log.refused:
                    self._refuse(one.file, log.refused[one.file.path], one.digest)
            if not read:
                forget_student(self._connection, student)
                return
            named = self._connection.execute("SELECT named FROM student WHERE student = ?", (student.bytes,)).fetchone()
            for table in ("student", "same_player", "delivery"):
                self._connection.execute(f"DELETE FROM {table} WHERE student = ?", (student.bytes,))
            self._put_student(student, read, log, named[0] if named else "")
            for one in read:
                self._put_delivery(student, one, log)
            self.told.takes += put_practice(self._connection, student, log.connection, self._parts_of)
        self.told.changed += 1

    def _put_student(self, student: UUID, read: Sequence[_Delivery], log: StudentLog, named: str) -> None:
        told = next((player.name for player in players_with_entries(log.connection) if player.name), "")
        newest = max(read, key=lambda one: (one.owner.exported_utc, one.file.name))
        name = told or newest.owner.name or newest.file.path.stem
        self._connection.execute(insert_statement("student"), (student.bytes, name, named))
        ids = sorted({uuid for one in read for uuid in one.owner.ids})
        self._connection.executemany(insert_statement("same_player"), [(student.bytes, uuid.bytes) for uuid in ids])

    def _put_delivery(self, student: UUID, one: _Delivery, log: StudentLog) -> None:
        came = log.came.get(one.file.path)
        said = [] if came is None else told_of(one.file.path, came)
        self.told.faults += said if came is not None else _messages(one.said)
        entries = 0 if came is None else sum(count for count, _ in came.holds.values())
        adds = 0 if came is None else came.new.total() + came.kept + came.longer
        row = (
            student.bytes,
            one.file.name,
            one.file.size_bytes,
            one.file.changed_ns,
            one.digest,
            " ".join(map(str, one.owner.ids)),
            one.owner.exported_utc,
            entries,
            adds,
            one.said if came is None else json.dumps([to_plain(each) for each in said]),
        )
        self._connection.execute(insert_statement("delivery"), row)

    def _refuse_all(self, student: UUID, deliveries: Sequence[_Delivery], fault: Exception) -> None:
        """Rows that make no sense together: none of it is kept, and each file is named."""
        with transaction(self._connection):
            forget_student(self._connection, student)
            for one in deliveries:
                said = message("report.rows_without_sense", name=one.file.path.name, fault=type(fault).__name__)
                self._refuse(one.file, fault.message if isinstance(fault, HomefretError) else said, one.digest)

    def _known_before(self, student: UUID) -> dict[str, str]:
        rows = self._connection.execute("SELECT path, digest FROM delivery WHERE student = ?", (student.bytes,))
        return dict(rows.fetchall())

    def _say_again(self, deliveries: Sequence[_Delivery]) -> None:
        for one in deliveries:
            self.told.faults += _messages(one.said)

    def _touch(self, student: UUID, deliveries: Sequence[_Delivery]) -> None:
        """A file that is the same under a new time need not be read next time either."""
        rows = [(one.file.size_bytes, one.file.changed_ns, student.bytes, one.file.name) for one in deliveries]
        with transaction(self._connection):
            self._connection.executemany(
                "UPDATE delivery SET size_bytes = ?, changed_ns = ? WHERE student = ? AND path = ? "
                "AND (size_bytes, changed_ns) <> (?1, ?2)",
                rows,
            )


def _by_student(deliveries: Collection[_Delivery]) -> Mapping[UUID, list[_Delivery]]:
    """The files of each student: whoever is known by one id in common is one. A student is called by the lowest id."""
    lowest: dict[UUID, UUID] = {}

    def found(uuid: UUID) -> UUID:
        while lowest.setdefault(uuid, uuid) != uuid:
            uuid = lowest[uuid]
        return uuid

    for delivery in deliveries:
        roots = {found(uuid) for uuid in delivery.owner.ids}
        lowest.update(dict.fromkeys(roots, min(roots)))
    groups: dict[UUID, list[_Delivery]] = {}
    for delivery in deliveries:
        groups.setdefault(found(delivery.owner.ids[0]), []).append(delivery)
    return groups


def _digest(file: FoundFile) -> str:
    try:
        return hash_of(file.path)
    except LogError:
        return ""


def _messages(said: str) -> list[Message]:
    return [from_plain(one) for one in json.loads(said)]
