"""For how many months a school keeps what is in its database; and what is older out of it, of all its students, those
too who are in no class any more. What goes and what stays is as in the file of a class (`forgotten_by_age`); the sums
by day that a head sees go with the days.
"""

from datetime import date
from typing import TYPE_CHECKING, Any
from uuid import UUID

from game.practice_log.classes.forgotten_by_age import gone_statement, statements, values_of, with_older_statement
from game.practice_log.school.school_connection import AskedSchool
from game.practice_log.school.school_schema import STUDENT_TABLES, hold_version
from game.practice_log.school.student_locks import students_known_by

if TYPE_CHECKING:
    from psycopg import Connection

_ROW = 1
_STATEMENTS = (
    *statements(of_one=True),
    # What a head sees is a copy of the days.
    "DELETE FROM day_sums WHERE day < :since AND student = :student",
)


def kept_in_school(connection: "Connection[Any]") -> int | None:
    """For how many months a school keeps what it holds; None for ever."""
    row = connection.execute("SELECT months FROM keeping").fetchone()
    return int(row[0]) if row else None


def keep_in_school(connection: "Connection[Any]", months: int | None) -> None:
    """Keep what is in a school so many months from now on. Where that is longer than before, each student is brought
    again when their folder is gathered next: what went comes back out of the files.
    """
    with connection.transaction():
        hold_version(connection)
        before = kept_in_school(connection)
        connection.execute("DELETE FROM keeping")
        if months is not None:
            connection.execute("INSERT INTO keeping VALUES (%s, %s)", (_ROW, months))
        if before is not None and (months is None or months > before):
            connection.execute("UPDATE brought SET fingerprint = ''")


def forget_in_school(connection: "Connection[Any]", since: date) -> int:
    """Take out of a school what is older than a day, a student at a time; how many went whole."""
    found = AskedSchool(connection).execute(with_older_statement(), values_of(since)).fetchall()
    gone = 0
    for (student,) in sorted(found):
        with connection.transaction():
            hold_version(connection)
            # Whoever is moved meanwhile is gone through where they are now, the next time.
            students_known_by(connection, [student])
            gone += forget_older_of(connection, student, since)
    return gone


def forget_older_of(connection: "Connection[Any]", student: UUID, since: date) -> bool:
    """Take out of a school what is older than a day of one student, whose locks this transaction holds; whether they
    went whole, of whom nothing is newer.
    """
    asked, values = AskedSchool(connection), values_of(since) | {"student": student}
    is_gone = asked.execute(gone_statement(of_one=True), values).fetchone() is not None
    if is_gone:
        for table in STUDENT_TABLES:
            asked.execute(f"DELETE FROM {table} WHERE student = :student", values)
        return True
    for statement in _STATEMENTS:
        asked.execute(statement, values if ":" in statement else {})
    return False
