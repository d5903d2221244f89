"""What is older than a day out of a gathered class or a school, whose figures of what is newer stay as they are.

Single takes go, with their notes and pencil marks, and day sums; of what was set, what was done or withdrawn before.
Students of whom nothing is newer go whole. Their own logs and exports are not touched.

**What stays though it is older**, because figures of what is newer are made with it: passages with what they came to
(how many takes, first and last day, tempi) and their marks; of each passage the newest take and the fastest clean one,
and of one that was played since the last ten with their notes: by these it is told whether it gets on. First sightings
need no older takes, for each take says which sighting it was. So passages, marks, needs, slow notes and all that is
counted over days that are kept are the same as if nothing had gone; sums over all days are sums over the days that are
kept. Whatever is needed again (a student who comes back, a passage that is taken up again) comes out of their files,
which are read whole.
"""

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from game.practice_log.classes.class_file import forget_student, open_class
from game.practice_log.classes.need import STUCK_TAKES
from game.practice_log.database.migrations import transaction

FEWEST_MONTHS = 2
"""Less would take away what a class is asked: the week before this one, first sight in four weeks."""

_GONE = """
SELECT student FROM (SELECT student FROM take {of} GROUP BY student HAVING MAX(day) < :since) AS old
WHERE student NOT IN (SELECT student FROM assignment WHERE opened_us >= :since_us)
ORDER BY student
"""
_OLD_TAKES = f"""
SELECT student, take,
    back = 1 OR (lately AND back <= {STUCK_TAKES}) OR (clean_in_time = 1 AND fast = 1) AS stays,
    lately AND back <= {STUCK_TAKES} AS with_notes
FROM (
    SELECT take.student, take.take, take.day, take.clean_in_time, passage.last_day >= :since AS lately,
        ROW_NUMBER() OVER (PARTITION BY take.student, take.passage ORDER BY take.place DESC) AS back,
        ROW_NUMBER() OVER (
            PARTITION BY take.student, take.passage, take.clean_in_time
            ORDER BY COALESCE(take.tempo_bpm, 0) DESC, take.place
        ) AS fast
    FROM take JOIN passage ON passage.student = take.student AND passage.passage = take.passage {{of_take}}
) AS ranked
WHERE day < :since
"""
_OVER = """
SELECT student, digest FROM set_part {of}
GROUP BY student, digest
HAVING MAX(CASE WHEN withdrawn = 1 THEN opened_day ELSE COALESCE(done_day, '9999') END) < :since
"""
_WITH_OLDER = f"""
SELECT student FROM day WHERE day < :since
UNION SELECT student FROM marked_take WHERE day < :since
UNION SELECT student FROM ({_OVER}) AS over_set
UNION SELECT student FROM assignment WHERE opened_us < :since_us
    AND (student, digest) NOT IN (SELECT student, digest FROM set_part)
UNION SELECT student FROM ({_GONE}) AS gone
"""
_FORGOTTEN = (
    "DROP TABLE IF EXISTS old_take",
    f"CREATE TEMP TABLE old_take AS {_OLD_TAKES}",
    "DELETE FROM note WHERE (student, take) IN (SELECT student, take FROM old_take WHERE NOT with_notes)",
    "DELETE FROM take WHERE (student, take) IN (SELECT student, take FROM old_take WHERE NOT stays)",
    # As if nobody had judged it yet: so its notes come again when they are needed, and its student is read anew.
    (
        "UPDATE take SET judged_key = 0 WHERE judged_key <> 0 "
        "AND (student, take) IN (SELECT student, take FROM old_take WHERE stays AND NOT with_notes)"
    ),
    "DELETE FROM day WHERE day < :since {and_of}",
    "DELETE FROM marked_take WHERE day < :since {and_of}",
    f"DELETE FROM set_part WHERE (student, digest) IN ({_OVER})",
    (
        "DELETE FROM assignment WHERE opened_us < :since_us {and_of} "
        "AND (student, digest) NOT IN (SELECT student, digest FROM set_part)"
    ),
    "DROP TABLE old_take",
)


@dataclass(frozen=True, slots=True)
class ForgottenByAge:
    """How many takes went, how many students went whole, and the paths of the files of these, within the folder."""

    takes: int
    students: int
    files: tuple[str, ...]


def day_before(today: date, months: int) -> date:
    """The same day so many months ago, or the last of its month."""
    year, month = divmod(today.year * 12 + today.month - 1 - months, 12)
    for day in range(today.day, 0, -1):
        try:
            return date(year, month + 1, day)
        except ValueError:
            continue
    raise ValueError(f"no month has a day {today.day}")


def statements(*, of_one: bool) -> tuple[str, ...]:
    """The statements by which what is older goes out of the tables of a class, for either database: of all students, or
    of one, `:student`. Days are `:since`, and `:since_us` in microseconds since 1970 (`values_of`). They make a table
    of the connection's own, and drop it.
    """
    return tuple(map(_of_one if of_one else _of_all, _FORGOTTEN))


def gone_statement(*, of_one: bool) -> str:
    """The statement that finds those of whom nothing is newer: nothing played, and nothing opened that was set."""
    return (_of_one if of_one else _of_all)(_GONE)


def with_older_statement() -> str:
    """The statement that finds those of whom something is to go."""
    return _of_all(_WITH_OLDER)


def values_of(since: date) -> dict[str, Any]:
    """A day, as the statements want it."""
    midnight = datetime(since.year, since.month, since.day, tzinfo=UTC)
    return {"since": since.isoformat(), "since_us": round(midnight.timestamp()) * 1_000_000}


def _of_one(statement: str) -> str:
    mine = "student = :student"
    return statement.format(of=f"WHERE {mine}", and_of=f"AND {mine}", of_take=f"WHERE take.{mine}")


def _of_all(statement: str) -> str:
    return statement.format(of="", and_of="", of_take="")


def forget_older(path: Path, since: date) -> ForgottenByAge:
    """Take out of a class what is older than a day: it and what is newer stays. Raises `LogError` where the file cannot
    be written now: then it is as it was.
    """
    values = values_of(since)
    with open_class(path) as connection, transaction(connection):
        gone = [UUID(bytes=student) for (student,) in connection.execute(gone_statement(of_one=False), values)]
        files = tuple(path for student in gone for path in _files_of(connection, student))
        before = _count(connection)
        for student in gone:
            forget_student(connection, student)
        for statement in statements(of_one=False):
            connection.execute(statement, values if ":since" in statement else {})
        return ForgottenByAge(takes=before - _count(connection), students=len(gone), files=files)


def read_all_again(path: Path) -> None:
    """Have every student of a class read anew when it is gathered next: what went comes back. Raises `LogError`."""
    with open_class(path) as connection, transaction(connection):
        connection.execute("DELETE FROM delivery")
        # Takes without their notes are none that could stay.
        connection.execute("DELETE FROM note")
        connection.execute("DELETE FROM take")


def _files_of(connection: sqlite3.Connection, student: UUID) -> Iterator[str]:
    rows = connection.execute("SELECT path FROM delivery WHERE student = ? ORDER BY path", (student.bytes,))
    return (path for (path,) in rows.fetchall())


def _count(connection: sqlite3.Connection) -> int:
    (count,) = connection.execute("SELECT COUNT(*) FROM take").fetchone()
    return int(count)
