"""A gathered class brought into a school's database: what changed of each student, in a transaction of their own.

The file of the class is the staging place. Several may bring at once: whoever brings, moves or erases a student holds
the locks of all ids by which they are known until the end of the transaction, taken in the same order by all. What two
folders know of one student is put together (`student_sides`); nothing of a student goes because a file is no longer in
a folder: only the folder's class loses them. What is to go is erased (`school_erasure`).
"""

import hashlib
import platform
import sqlite3
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from uuid import UUID

from game.errors import LogError, reason_of
from game.message import Message, message
from game.practice_log.classes.class_schema import CLASS_VERSION, TABLES
from game.practice_log.classes.forgotten_by_age import day_before
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_erasure import FolderMarks, erase_marked, is_erased_in_school
from game.practice_log.school.school_keeping import forget_in_school, forget_older_of, kept_in_school
from game.practice_log.school.school_schema import STUDENT_TABLES, hold_version, refuse_other_version
from game.practice_log.school.student_locks import students_known_by
from game.practice_log.school.student_sides import BY_TABLE, Row, Rows, merged
from game.text.clean_text import cleaned

if TYPE_CHECKING:
    from psycopg import Connection

NO_MARKS = FolderMarks()

_SMALL = tuple(table for table in TABLES if table != "note")
_NOTE_COLUMNS = ("take", "n", "item", *(name for name, _ in TABLES["note"] if name not in ("take", "n", "item")))
_NOTE = ", ".join(_NOTE_COLUMNS)
_TOLD = ("student", "same_player", "delivery", "set_part")
"""What says whether anything of a student changed: of which files they were made, and what a list says."""


@dataclass(slots=True)
class BroughtIntoSchool:
    """What came: how many `students` lie there, of how many something was new (`changed`), how many `takes` were put
    in, how many students were `erased`; and what is to be said, a sentence each.
    """

    students: int = 0
    changed: int = 0
    takes: int = 0
    erased: int = 0
    faults: list[Message] = field(default_factory=list)


def bring_into_school(
    class_file: Path,
    address: str,
    class_name: str,
    *,
    source: str = "",
    marks: FolderMarks = NO_MARKS,
    today: date | None = None,
) -> BroughtIntoSchool:
    """Bring the file of a class into the database at an address, as the class of this name. `source` tells the folder
    that it was gathered of from others (its own place, if nothing is said); `marks` are those of who was erased, and is
    to be erased there too. What is older than the school keeps, counted back from `today`, goes. Raises `LogError`, in
    one sentence without the password.
    """
    source = source or source_of(class_file)
    with school_connection(address) as connection:
        refuse_other_version(connection)
        by_mark = erase_marked(connection, marks, source)
        told = BroughtIntoSchool(erased=by_mark.students)
        told.faults += [
            message("school.stays_though_marked", name=one.name, mark=one.mark, id=str(one.player))
            for one in by_mark.stay
        ]
        months = kept_in_school(connection)
        since = None if months is None else day_before(today or datetime.now(UTC).date(), months)
        try:
            with closing(sqlite3.connect(f"{class_file.absolute().as_uri()}?mode=ro", uri=True)) as file:
                _Bringing(connection, file, class_name, source, since, told).bring()
        except sqlite3.Error as error:
            raise LogError("transfer.cannot_be_opened", file=class_file, reason=reason_of(error)) from error
        if since is not None:
            forget_in_school(connection, since)
            told.faults.append(message("school.kept_since", since=since))
    return told


def source_of(place: Path) -> str:
    """What tells a folder of this computer from others; it says nothing of either."""
    return hashlib.sha256(f"{platform.node()} {place.resolve()}".encode(errors="replace")).hexdigest()[:16]


class _Bringing:
    """A class on its way into the school."""

    def __init__(
        self,
        connection: "Connection[Any]",
        file: sqlite3.Connection,
        class_name: str,
        source: str,
        since: date | None,
        told: BroughtIntoSchool,
    ) -> None:
        self._connection, self._file, self._source, self._since, self.told = connection, file, source, since, told
        self._class = cleaned(class_name, 60)

    def bring(self) -> None:
        import psycopg  # noqa: PLC0415

        for table in TABLES:
            self._connection.execute(
                f"CREATE TEMP TABLE incoming_{table} (LIKE {table}) ON COMMIT DELETE ROWS".encode()
            )
        known = self._brought_before()
        for student, name in self._file.execute("SELECT student, name FROM student ORDER BY student").fetchall():
            called = UUID(bytes=student)
            fingerprint = self._fingerprint(student)
            if known.get(called) == fingerprint:
                self.told.students += 1
                continue
            try:
                self._bring(called, fingerprint)
            except (psycopg.DataError, UnicodeError):
                # A number or a sign that no row of the database holds: the others are brought all the same.
                self.told.faults.append(message("school.student_left_out", name=name))
        self._let_go()

    def _brought_before(self) -> Mapping[UUID, str]:
        rows = self._connection.execute(
            "SELECT called, fingerprint FROM brought WHERE source = %s AND EXISTS (SELECT 1 FROM class_student AS one "
            "WHERE one.student = brought.student AND one.source = brought.source AND one.class = %s)",
            (self._source, self._class),
        )
        return dict(rows.fetchall())

    def _fingerprint(self, student: bytes) -> str:
        digest = hashlib.sha256(f"{CLASS_VERSION}".encode())
        for table in _TOLD:
            for row in sorted(self._rows(table, student), key=repr):
                told = (value for name, value in zip(BY_TABLE[table], row, strict=True) if name != "changed_ns")
                digest.update(repr(tuple(told)).encode(errors="replace"))
        return digest.hexdigest()

    def _bring(self, called: UUID, fingerprint: str) -> None:
        ids = {called, *(UUID(bytes=one) for (one,) in self._rows("same_player", called.bytes))}
        with self._connection.transaction():
            hold_version(self._connection)
            known = students_known_by(self._connection, ids)
            ids |= known.ids
            if is_erased_in_school(self._connection, ids):
                self.told.faults.append(message("school.erased"))
                return
            if others := self._taken_for_the_same(called, known.students):
                self.told.faults.append(message("school.became_one", name=self._name(called), others=others))
            student = min(ids)
            for other in sorted(known.students - {student}):
                self._move(other, student)
            self._put(student, self._side_of_file(called.bytes), self._notes_of_file(called.bytes))
            self._note_brought(student, called, fingerprint)
            if self._since is not None:
                # Nobody sees it meanwhile.
                forget_older_of(self._connection, student, self._since)
        self.told.students += 1
        self.told.changed += 1

    def _taken_for_the_same(self, called: UUID, students: Iterable[UUID]) -> tuple[str, ...]:
        """The names of those who are this student from now on, where they are called otherwise: a file that was made by
        hand may say so, and whoever looks after the school is to hear of it.
        """
        rows = self._connection.execute(
            "SELECT name FROM student AS one WHERE student = ANY (%s) AND NOT EXISTS (SELECT 1 FROM brought "
            "WHERE brought.student = one.student AND source = %s AND called = %s) ORDER BY name",
            (list(students), self._source, called),
        ).fetchall()
        return tuple(name for (name,) in rows if name.casefold() != self._name(called).casefold())

    def _name(self, called: UUID) -> str:
        (row,) = self._rows("student", called.bytes)
        return str(row[BY_TABLE["student"]["name"]])

    def _side_of_file(self, student: bytes) -> Rows:
        return {table: [_for_school(table, row) for row in self._rows(table, student)] for table in _SMALL}

    def _notes_of_file(self, student: bytes) -> Iterator[Row]:
        yield from self._file.execute(f"SELECT {_NOTE} FROM note WHERE student = ? ORDER BY take, n", (student,))

    def _rows(self, table: str, student: bytes) -> list[Row]:
        columns = ", ".join(BY_TABLE[table])
        return self._file.execute(f"SELECT {columns} FROM {table} WHERE student = ? ORDER BY 1", (student,)).fetchall()

    def _side_there(self, student: UUID) -> Rows:
        return {
            table: self._connection.execute(
                f"SELECT {', '.join(BY_TABLE[table])} FROM {table} WHERE student = %s".encode(), (student,)
            ).fetchall()
            for table in _SMALL
        }

    def _move(self, other: UUID, student: UUID) -> None:
        """Somebody who was two until now, by two ids, becomes one."""
        notes = self._connection.execute(f"SELECT {_NOTE} FROM note WHERE student = %s".encode(), (other,)).fetchall()
        self._put(student, self._side_there(other), notes)
        for table in ("class_student", "brought"):
            self._connection.execute(
                f"INSERT INTO {table} SELECT %s, {_others(table)} FROM {table} WHERE student = %s "
                "ON CONFLICT DO NOTHING".encode(),
                (student, other),
            )
        for table in STUDENT_TABLES:
            self._connection.execute(f"DELETE FROM {table} WHERE student = %s".encode(), (other,))

    def _put(self, student: UUID, brings: Rows, notes: Iterable[Row]) -> None:
        there = self._side_there(student)
        now = merged(there, brings, self._since)
        self._take_out_notes(student, there["take"], now.rows["take"])
        for table in _SMALL:
            if set(there[table]) != set(now.rows[table]):
                self._connection.execute(f"DELETE FROM {table} WHERE student = %s".encode(), (student,))
                self._copy(table, ((student, *row) for row in now.rows[table]))
        wanted = now.brought
        self._copy(
            "note",
            (
                (student, now.takes[take], n, now.items[item], *rest)
                for take, n, item, *rest in notes
                if now.takes.get(take) in wanted
            ),
        )
        self._sum_up(student)
        self.told.takes += len(now.rows["take"]) - len(there["take"])

    def _take_out_notes(self, student: UUID, before: Sequence[Row], now: Sequence[Row]) -> None:
        """Those of takes that were judged anew."""
        at = BY_TABLE["take"]["judged_key"]
        judged = {row[0]: row[at] for row in now}
        stale = [row[0] for row in before if judged.get(row[0]) != row[at]]
        if stale:
            self._connection.execute("DELETE FROM note WHERE student = %s AND take = ANY (%s)", (student, stale))

    def _copy(self, table: str, rows: Iterable[Row]) -> None:
        """By way of a table of this connection's own: COPY goes into none whose rows are guarded."""
        columns = ", ".join(("student", *(_NOTE_COLUMNS if table == "note" else BY_TABLE[table])))
        with (
            self._connection.cursor() as cursor,
            cursor.copy(f"COPY incoming_{table} ({columns}) FROM STDIN".encode()) as copying,
        ):
            for row in rows:
                copying.write_row(row)
        self._connection.execute(f"INSERT INTO {table} ({columns}) SELECT {columns} FROM incoming_{table}".encode())
        self._connection.execute(f"TRUNCATE incoming_{table}".encode())

    def _sum_up(self, student: UUID) -> None:
        """What a head sees is a copy of the days."""
        self._connection.execute("DELETE FROM day_sums WHERE student = %s", (student,))
        self._connection.execute(
            "INSERT INTO day_sums (student, day, minutes, takes, read, clean, read_timed, clean_timed) "
            "SELECT student, day, minutes, takes, read, clean, read_timed, clean_timed FROM day WHERE student = %s",
            (student,),
        )

    def _note_brought(self, student: UUID, called: UUID, fingerprint: str) -> None:
        self._connection.execute("DELETE FROM brought WHERE source = %s AND called = %s", (self._source, called))
        self._connection.execute(
            "INSERT INTO brought VALUES (%s, %s, %s, %s)", (student, self._source, called, fingerprint)
        )
        self._connection.execute(
            "INSERT INTO class_student VALUES (%s, %s, %s) ON CONFLICT DO NOTHING", (student, self._class, self._source)
        )

    def _let_go(self) -> None:
        """Who is no longer in the folder is no longer in its class."""
        here = [UUID(bytes=one) for (one,) in self._file.execute("SELECT student FROM student")]
        with self._connection.transaction():
            hold_version(self._connection)
            gone = (self._source, here)
            self._connection.execute("DELETE FROM brought WHERE source = %s AND NOT called = ANY (%s)", gone)
            self._connection.execute(
                "DELETE FROM class_student AS one WHERE source = %s AND (class <> %s OR NOT EXISTS ("
                "SELECT 1 FROM brought WHERE brought.student = one.student AND brought.source = one.source))",
                (self._source, self._class),
            )


def _for_school(table: str, row: Row) -> Row:
    """Ids as the database has them; text without the sign that no text there may hold."""
    kinds = TABLES[table]
    return tuple(_value(value, kind) for value, (_, kind) in zip(row, kinds, strict=True))


def _value(value: Any, kind: str) -> Any:
    if isinstance(value, bytes) and kind.startswith("{id}"):
        return UUID(bytes=value)
    return value.replace("\0", "") if isinstance(value, str) else value


def _others(table: str) -> str:
    return {"class_student": "class, source", "brought": "source, called, fingerprint"}[table]
