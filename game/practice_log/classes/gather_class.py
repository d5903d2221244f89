"""A folder of exports, logs and shared folders gathered into the file of a class, student by student.

What is kept is what the files that lie there now come to, whatever was gathered before and in whatever order: who is no
longer in any of them is no longer in the class. Only students of whom a file came, went or changed are gone through
again, each in a transaction of their own: however it ends, the file is one that can be used, and the next time goes on.
Several processes go through the files, a student each (`helper_processes`); only this one writes.
"""

import json
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing, contextmanager, nullcontext
from dataclasses import dataclass, field, replace
from pathlib import Path
from uuid import UUID

from game.message import Message, message, to_plain
from game.practice_log.classes.class_file import forget_student, open_class, settle_class
from game.practice_log.classes.class_folder import FoundInFolder, found_in
from game.practice_log.classes.class_schema import insert_statement
from game.practice_log.classes.class_writing import PartsOf, no_parts
from game.practice_log.classes.deliveries import Deliveries, Delivery, by_student
from game.practice_log.classes.helper_processes import HelperProcesses, most_processes
from game.practice_log.classes.student_log import told_of
from game.practice_log.classes.student_rows import (
    TOLD_BY_FILES,
    NoRows,
    StudentRows,
    StudentTask,
    rows_of_student,
    rows_there,
    take_over,
)
from game.practice_log.database.migrations import transaction

BYTES_FOR_EACH = 250_000
"""So much to read is worth another process: it takes a quarter of a second to begin, and to go through 300 kB takes
half a second. Ours.
"""

GONE = "gather.gone"
"""The key of what is said of a file that lies there no longer, where nothing else is there of whoever handed it in."""

_STAGED = "staged"


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


def _tell_nobody(_number: int, _count: int) -> None:
    """Say nothing."""


def gather_class(
    folder: Path,
    into: Path,
    *,
    marks: Iterable[Path] = (),
    parts_of: PartsOf = no_parts,
    tell: Callable[[int, int], None] = _tell_nobody,
    helpers: HelperProcesses | None = None,
) -> GatheredClass:
    """Gather a folder into the file of a class, which is made where it is not there. Who was erased, by a mark in the
    folder of their file or above it, or in one of `marks`, is left out, and taken out. `parts_of` says what was set and
    done in a log: a function of a module, for it may be called in another process. `tell` hears which student is gone
    through now, counted from 1, of how many, and at the end one number more; nothing where all is as it was. Where
    there is much to read, `helpers` do it, or processes that end with it.

    Raises `LogError` for a folder or a file that cannot be read or written at all.
    """
    found = found_in(folder, into)
    with open_class(into) as connection, nullcontext(helpers) if helpers else HelperProcesses() as processes:
        gathering = _ClassGathering(connection, found, tuple(marks), parts_of)
        gathering.gather(tell, processes)
        return gathering.told


def how_many_processes(students: int, size_bytes: int) -> int:
    """How many processes are worth it; with one or none everything is done in this one."""
    return min(most_processes(), students, size_bytes // BYTES_FOR_EACH)


class _ClassGathering:
    """Gathering under way."""

    def __init__(
        self, connection: sqlite3.Connection, found: FoundInFolder, marks: Sequence[Path], parts_of: PartsOf
    ) -> None:
        self._connection, self._found, self._parts_of = connection, found, parts_of
        self.told = GatheredClass(faults=list(found.faults))
        self._deliveries = Deliveries(connection, found, marks, self.told.faults)

    def gather(self, tell: Callable[[int, int], None], helpers: HelperProcesses) -> None:
        groups = by_student(self._deliveries.that_lie_there())
        with transaction(self._connection):
            for student in sorted(self._students() - groups.keys()):
                self._tell_gone(student)
                forget_student(self._connection, student)
        to_do = [student for student in sorted(groups) if self._is_to_do(student, groups[student])]
        processes = how_many_processes(len(to_do), sum(one.file.size_bytes for who in to_do for one in groups[who]))
        tasks = (self._task(student, groups[student]) for student in to_do)
        with _staging(self._connection), closing(helpers.answers(rows_of_student, tasks, processes)) as answers:
            for number in range(1, len(to_do) + 1):
                tell(number, len(to_do))
                task, answer = next(answers)
                self._take_in(task, groups[task.student], answer)
        if to_do:
            tell(len(to_do) + 1, len(to_do))
        if self.told.changed:
            settle_class(self._connection)
        self.told.students = len(self._students())

    def _tell_gone(self, student: UUID) -> None:
        """Say which file somebody is missed with; of one that lies there still it is said why it is not read."""
        handed_in = self._deliveries.known_before(student).keys()
        if not handed_in or any(file.name in handed_in for file in self._found.files):
            return
        ids = self._connection.execute("SELECT player FROM same_player WHERE student = ?", (student.bytes,)).fetchall()
        if not any(self._deliveries.is_erased(UUID(bytes=player), name) for (player,) in ids for name in handed_in):
            self.told.faults.append(message(GONE, file=min(handed_in)))

    def _students(self) -> set[UUID]:
        return {UUID(bytes=student) for (student,) in self._connection.execute("SELECT student FROM student")}

    def _is_to_do(self, student: UUID, deliveries: Sequence[Delivery]) -> bool:
        """Whether something of a student changed."""
        now = {delivery.file.name: delivery.digest for delivery in deliveries}
        if self._deliveries.known_before(student) != now or any(delivery.adds is None for delivery in deliveries):
            return True
        for one in deliveries:
            self.told.faults += one.messages
        self._deliveries.touch(student, deliveries)
        return False

    def _task(self, student: UUID, deliveries: Sequence[Delivery]) -> StudentTask:
        # What a file adds that was read before stays so, as long as all that was read with it is there.
        known, now = self._deliveries.known_before(student), {one.file.name: one.digest for one in deliveries}
        only_more = known.items() <= now.items()
        left = [one for one in deliveries if not only_more or one.adds is None or one.adds]
        left.sort(key=lambda one: (one.owner.exported_utc, one.file.name), reverse=True)
        files = [(one.file.path, one.owner) for one in left]
        return StudentTask(
            student=student, files=files, there=rows_there(self._connection, student), parts_of=self._parts_of
        )

    def _take_in(self, task: StudentTask, deliveries: Sequence[Delivery], answer: StudentRows | NoRows | None) -> None:
        """What came of one student: whatever it is, the others stay as they are."""
        if isinstance(answer, StudentRows):
            self._put(task, deliveries, answer)
        elif isinstance(answer, NoRows):
            self._refuse_all(task.student, deliveries, answer.fault)
        else:
            # Nothing is kept of it: it is tried again the next time.
            self.told.faults += [message("gather.broke_off", file=one.file.path.name) for one in deliveries]

    def _put(self, task: StudentTask, deliveries: Sequence[Delivery], rows: StudentRows) -> None:
        student = task.student
        read = [one for one in deliveries if one.file.path not in rows.refused]
        if rows.image:
            self._connection.deserialize(rows.image, name=_STAGED)
        with transaction(self._connection):
            there = rows_there(self._connection, student)
            if there == task.there:
                self._put_all(student, deliveries, read, rows)
                return
        # Somebody else gathered the same meanwhile.
        self._take_in(replace(task, there=there), deliveries, rows_of_student(replace(task, there=there)))

    def _put_all(
        self, student: UUID, deliveries: Sequence[Delivery], read: Sequence[Delivery], rows: StudentRows
    ) -> None:
        self.told.read += len(rows.came) + len(rows.refused)
        for one in deliveries:
            if one.file.path in rows.refused:
                self._deliveries.refuse(one.file, rows.refused[one.file.path], one.digest)
        if not read:
            forget_student(self._connection, student)
            return
        named = self._connection.execute("SELECT named FROM student WHERE student = ?", (student.bytes,)).fetchone()
        for table in TOLD_BY_FILES:
            self._connection.execute(f"DELETE FROM {table} WHERE student = ?", (student.bytes,))
        self._put_student(student, read, rows, named[0] if named else "")
        for one in read:
            self._put_delivery(student, one, rows)
        take_over(self._connection, student, _STAGED)
        self.told.takes += rows.takes
        self.told.changed += 1

    def _put_student(self, student: UUID, read: Sequence[Delivery], rows: StudentRows, named: str) -> None:
        newest = max(read, key=lambda one: (one.owner.exported_utc, one.file.name))
        name = rows.name or newest.owner.name or newest.file.path.stem
        self._connection.execute(insert_statement("student"), (student.bytes, name, named))
        ids = sorted({uuid for one in read for uuid in one.owner.ids})
        self._connection.executemany(insert_statement("same_player"), [(student.bytes, uuid.bytes) for uuid in ids])

    def _put_delivery(self, student: UUID, one: Delivery, rows: StudentRows) -> None:
        came = rows.came.get(one.file.path)
        said = [] if came is None else told_of(one.file.path, came)
        self.told.faults += said if came is not None else one.messages
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

    def _refuse_all(self, student: UUID, deliveries: Sequence[Delivery], fault: Message | str) -> None:
        """Rows that make no sense together: none of it is kept, and each file is named."""
        with transaction(self._connection):
            forget_student(self._connection, student)
            for one in deliveries:
                name = one.file.path.name
                said = message("report.rows_without_sense", name=name, fault=fault) if isinstance(fault, str) else fault
                self._deliveries.refuse(one.file, said, one.digest)


@contextmanager
def _staging(connection: sqlite3.Connection) -> Iterator[None]:
    """A place for the rows of one student, in memory, before they are taken over."""
    connection.execute(f"ATTACH ':memory:' AS {_STAGED}")
    try:
        yield
    finally:
        connection.execute(f"DETACH {_STAGED}")
