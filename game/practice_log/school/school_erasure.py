"""Students erased from a school's database, from every table and sum; and marks by which they stay out of it.

A mark is the SHA-256 of an id, as in the marks that lie in folders (`transfer.erased`): no name, and no id.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from uuid import UUID

from game.practice_log.classes.class_folder import found_in
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_schema import STUDENT_TABLES, hold_version, refuse_other_version
from game.practice_log.school.student_locks import students_known_by
from game.practice_log.transfer.erased import MARKS, hash_in_mark, mark_name, player_hash

if TYPE_CHECKING:
    from psycopg import Connection


_NAME = "CASE WHEN named <> '' THEN named ELSE name END"


@dataclass(frozen=True, slots=True, kw_only=True)
class FolderMarks:
    """The names of marks of who was erased: those `of_folder` lie in a folder of a class itself, those `below` in one
    of its own; `own` ones were left on this computer by whoever gathers.
    """

    of_folder: frozenset[str] = frozenset()
    below: frozenset[str] = frozenset()
    own: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class StaysThoughMarked:
    """A student of whom there is a mark that does not count for the school: its name, theirs, and the id it is of."""

    mark: str
    name: str
    player: UUID


@dataclass(frozen=True, slots=True)
class ErasedByMark:
    """How many students went, and those of whom a mark does not count."""

    students: int
    stay: tuple[StaysThoughMarked, ...]


def marks_of(folder: Path, own: Path) -> FolderMarks:
    """The marks in the folder of a class, and those in another one of this computer, `own`. One in the folder of a
    class that belongs neither to whoever owns the folder, nor to whoever gathers, nor to root, is as if it lay below.
    Raises `LogError` as `found_in` does.
    """
    found = found_in(folder, folder)
    in_folder = frozenset(mark for mark, lies_in in found.marks.items() if "" in lies_in)
    return FolderMarks(
        of_folder=in_folder,
        below=frozenset({*found.marks, *found.not_ours} - in_folder),
        own=frozenset(path.name for path in own.glob(MARKS)),
    )


def erase_from_school(address: str, players: Collection[UUID], day: date) -> int:
    """Erase whoever is known by one of these ids, and keep them out, whether they are there or not; how many students
    were there. Raises `LogError`.
    """
    with school_connection(address) as connection:
        refuse_other_version(connection)
        return _erase(connection, players, day)


def erase_marked(connection: "Connection[Any]", marks: FolderMarks, source: str) -> ErasedByMark:
    """Erase those of whom there is a mark that counts; `source` tells the folder from others. A mark of this computer
    counts for the whole school. One in the folder itself counts for who came from that folder, for whoever looks after
    it erases nobody else's students. One in a folder below counts for nobody here, for a student may write there.
    """
    if marks.own:
        with connection.transaction(), connection.cursor() as cursor:
            # Also of those who are not there: whoever brings them later from elsewhere is told.
            hashes = [(hash_in_mark(name), _today().isoformat()) for name in sorted(marks.own)]
            cursor.executemany("INSERT INTO erased VALUES (%s, %s) ON CONFLICT DO NOTHING", hashes)
    if not marks.own | marks.of_folder | marks.below:
        return ErasedByMark(0, ())
    ids = connection.execute("SELECT student, player FROM same_player UNION SELECT student, student FROM student")
    known = {mark_name(player): (student, player) for student, player in ids.fetchall()}
    rows = connection.execute("SELECT DISTINCT student FROM brought WHERE source = %s", (source,)).fetchall()
    came = {student for (student,) in rows}
    counts = marks.own | {mark for mark in marks.of_folder if mark in known and known[mark][0] in came}
    players = [known[mark][1] for mark in sorted(counts & known.keys())]
    erased = _erase(connection, players, _today()) if players else 0
    stay = {mark: known[mark] for mark in sorted((marks.of_folder | marks.below) - counts) if mark in known}
    return ErasedByMark(erased, _named(connection, stay))


def _named(connection: "Connection[Any]", stay: Mapping[str, tuple[UUID, UUID]]) -> tuple[StaysThoughMarked, ...]:
    students = list({student for student, _ in stay.values()})
    rows = connection.execute(f"SELECT student, {_NAME} FROM student WHERE student = ANY (%s)".encode(), (students,))
    names = dict(rows.fetchall())
    return tuple(
        StaysThoughMarked(mark, names[student], player) for mark, (student, player) in stay.items() if student in names
    )


def is_erased_in_school(connection: "Connection[Any]", players: Iterable[UUID]) -> bool:
    """Whether one of these ids was erased."""
    asked = connection.execute(
        "SELECT EXISTS (SELECT 1 FROM erased WHERE player_hash = ANY (%s))", ([player_hash(one) for one in players],)
    ).fetchone()
    return bool(asked and asked[0])


def _erase(connection: "Connection[Any]", players: Collection[UUID], day: date) -> int:
    with connection.transaction():
        hold_version(connection)
        known = students_known_by(connection, players)
        with connection.cursor() as cursor:
            cursor.executemany(
                "INSERT INTO erased VALUES (%s, %s) ON CONFLICT DO NOTHING",
                [(player_hash(one), day.isoformat()) for one in sorted(known.ids)],
            )
        for table in STUDENT_TABLES:
            connection.execute(f"DELETE FROM {table} WHERE student = ANY (%s)".encode(), (list(known.students),))
    return len(known.students)


def _today() -> date:
    return datetime.now(UTC).date()
