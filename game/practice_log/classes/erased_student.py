"""A student out of the file of a class, so that nothing of them is found in its bytes."""

import sqlite3
from collections.abc import Collection, Iterable
from contextlib import suppress
from pathlib import Path
from uuid import UUID

from game.practice_log.classes.class_file import forget_student, open_class, read_class, settle_class
from game.practice_log.classes.class_schema import REFUSED
from game.practice_log.classes.students_in_folder import StudentFiles, joined
from game.practice_log.database.migrations import transaction

_KNOWN_BY = "SELECT DISTINCT student FROM same_player WHERE player = ?"


def students_in_class(path: Path) -> list[StudentFiles]:
    """The students of a class with all their ids, and their names: their own and what a list calls them. Raises
    `LogError` for one that cannot be read.
    """
    with read_class(path) as connection:
        names = {
            one: frozenset(filter(None, told))
            for one, *told in connection.execute("SELECT student, name, named FROM student")
        }
        ids = connection.execute("SELECT student, player FROM same_player").fetchall()
    by_student = [StudentFiles(frozenset({UUID(bytes=one)}), told) for one, told in names.items()]
    by_player = [
        StudentFiles(frozenset({UUID(bytes=student), UUID(bytes=player)}), frozenset()) for student, player in ids
    ]
    return joined([*by_student, *by_player])


def erase_from_class(path: Path, players: Collection[UUID]) -> frozenset[UUID]:
    """Take the students of these ids out of a class; who was taken out, by the ids they have there. Whoever was in a
    file together with one of them goes too, and is there again as soon as that file is read anew. Raises `LogError`
    where the file cannot be written now: then it is as it was.
    """
    with open_class(path) as connection:
        students = _students_of(connection, players)
        with transaction(connection):
            for student in students:
                forget_student(connection, student)
            # What was said of files that nobody could read names them, by names that may be anybody's.
            connection.execute(f"DELETE FROM {REFUSED}")
        clear_remains(connection)
    return students


def clear_remains(connection: sqlite3.Connection) -> None:
    """Leave nothing of what was deleted: neither among the samples by which the database finds its way, nor in what is
    left between the rows of a page. For the last the file is written anew, where the disk has room; rows themselves
    are written over in any case.
    """
    for table in ("sqlite_stat1", "sqlite_stat4"):
        with suppress(sqlite3.OperationalError):
            connection.execute(f"DELETE FROM {table}")
    settle_class(connection)
    with suppress(sqlite3.Error):
        connection.execute("VACUUM")


def _students_of(connection: sqlite3.Connection, players: Iterable[UUID]) -> frozenset[UUID]:
    found: set[UUID] = set()
    for player in players:
        found |= {UUID(bytes=student) for (student,) in connection.execute(_KNOWN_BY, (player.bytes,))}
        found |= {
            UUID(bytes=student)
            for (student,) in connection.execute("SELECT student FROM student WHERE student = ?", (player.bytes,))
        }
    return frozenset(found)
