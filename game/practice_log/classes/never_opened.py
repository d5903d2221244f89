"""What was set for students of a class who never opened it, so that no log of theirs tells of it."""

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from operator import itemgetter
from typing import Any
from uuid import UUID

from game.practice_log.classes.class_queries import AskedClass, as_uuid
from game.practice_log.classes.class_schema import insert_statement
from game.practice_log.classes.class_writing import SetPart
from game.practice_log.database.migrations import transaction

STUDENTS = "SELECT student FROM student ORDER BY student"
PATHS = "SELECT student, path FROM delivery ORDER BY student, path"
IDS = "SELECT student, player FROM same_player ORDER BY student, player"
OPENED = "SELECT student, digest, title, due FROM assignment ORDER BY student, opened_us, digest"
FIRST_DAYS = "SELECT student, MIN(day) FROM day GROUP BY student ORDER BY student"
NEVER_OPENED = "SELECT * FROM set_part WHERE opened_day = ''"


@dataclass(frozen=True, slots=True)
class OpenedText:
    """A form of an assignment that a student opened: the digest of its text, its title and when it is due."""

    digest: str
    title: str
    due: str


@dataclass(frozen=True, slots=True)
class StudentOfFolder:
    """A student by whatever tells for whom something was set: the paths of their files, their ids, what they opened,
    the oldest first, and the day of their first take (empty where there is none).
    """

    student: UUID
    paths: tuple[str, ...]
    ids: tuple[UUID, ...]
    opened: tuple[OpenedText, ...]
    first_day: str


def students_of_folder(asked: AskedClass) -> tuple[StudentOfFolder, ...]:
    """All students of a class."""
    paths, ids, opened = (_by_student(asked, statement) for statement in (PATHS, IDS, OPENED))
    first = _by_student(asked, FIRST_DAYS)
    return tuple(
        StudentOfFolder(
            student=student,
            paths=tuple(path for (path,) in paths[student]),
            ids=tuple(as_uuid(player) for (player,) in ids[student]),
            opened=tuple(OpenedText(*row) for row in opened[student]),
            first_day="".join(day for (day,) in first[student]),
        )
        for student in map(as_uuid, (row[0] for row in asked.execute(STUDENTS, {}).fetchall()))
    )


def put_never_opened(into: sqlite3.Connection, parts: Mapping[UUID, Iterable[SetPart]]) -> None:
    """These parts were set for these students and never opened, and no others. `into` is open for writing."""
    wanted: set[tuple[Any, ...]] = {(student.bytes, *part) for student, rows in parts.items() for part in rows}
    there = set(into.execute(NEVER_OPENED).fetchall())
    if wanted == there:
        return
    with transaction(into):
        into.executemany(
            "DELETE FROM set_part WHERE student = ? AND digest = ? AND part = ? AND stage = ?",
            [row[:4] for row in there - wanted],
        )
        into.executemany(insert_statement("set_part"), sorted(wanted - there, key=itemgetter(0, 1, 2, 3)))


def _by_student(asked: AskedClass, statement: str) -> defaultdict[UUID, list[tuple[Any, ...]]]:
    found: defaultdict[UUID, list[tuple[Any, ...]]] = defaultdict(list)
    for student, *row in asked.execute(statement, {}).fetchall():
        found[as_uuid(student)].append(tuple(row))
    return found
