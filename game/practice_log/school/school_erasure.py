"""Students erased from a school's database, from every table and sum; and marks by which they stay out of it.

A mark is the SHA-256 of an id, as in the marks that lie in folders (`transfer.erased`): no name, and no id.
"""

from collections.abc import Collection, Iterable
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any
from uuid import UUID

from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_schema import STUDENT_TABLES, hold_version, refuse_other_version
from game.practice_log.school.student_locks import students_known_by
from game.practice_log.transfer.erased import mark_name

if TYPE_CHECKING:
    from psycopg import Connection


def erase_from_school(address: str, players: Collection[UUID], day: date) -> int:
    """Erase whoever is known by one of these ids, and keep them out, whether they are there or not; how many students
    were there. Raises `LogError`.
    """
    with school_connection(address) as connection:
        refuse_other_version(connection)
        return _erase(connection, players, day)


def students_in_school(address: str, players: Collection[UUID]) -> tuple[str, ...]:
    """The names of those who would be erased. Raises `LogError`."""
    with school_connection(address) as connection:
        refuse_other_version(connection)
        with connection.transaction():
            known = students_known_by(connection, players)
            rows = connection.execute(
                "SELECT CASE WHEN named <> '' THEN named ELSE name END FROM student "
                "WHERE student = ANY (%s) ORDER BY 1",
                (list(known.students),),
            )
            return tuple(name for (name,) in rows.fetchall())


def erase_marked(connection: "Connection[Any]", marks: Iterable[str]) -> int:
    """Erase those of whom there is a mark, by the names of the marks' files; how many students were there."""
    wanted = frozenset(marks)
    if not wanted:
        return 0
    with connection.transaction():
        # Also of those who are not there: whoever brings them later from elsewhere is told.
        hashes = [(name.removeprefix("erased-").removesuffix(".json"), _today().isoformat()) for name in sorted(wanted)]
        with connection.cursor() as cursor:
            cursor.executemany("INSERT INTO erased VALUES (%s, %s) ON CONFLICT DO NOTHING", hashes)
    rows = connection.execute("SELECT student, player FROM same_player").fetchall()
    known = {one for row in rows for one in row}
    players = [one for one in known if mark_name(one) in wanted]
    return _erase(connection, players, _today()) if players else 0


def is_erased_in_school(connection: "Connection[Any]", players: Iterable[UUID]) -> bool:
    """Whether one of these ids was erased."""
    asked = connection.execute(
        "SELECT EXISTS (SELECT 1 FROM erased WHERE player_hash = ANY (%s))", ([_hash(one) for one in players],)
    ).fetchone()
    return bool(asked and asked[0])


def _erase(connection: "Connection[Any]", players: Collection[UUID], day: date) -> int:
    with connection.transaction():
        hold_version(connection)
        known = students_known_by(connection, players)
        with connection.cursor() as cursor:
            cursor.executemany(
                "INSERT INTO erased VALUES (%s, %s) ON CONFLICT DO NOTHING",
                [(_hash(one), day.isoformat()) for one in sorted(known.ids)],
            )
        for table in STUDENT_TABLES:
            connection.execute(f"DELETE FROM {table} WHERE student = ANY (%s)".encode(), (list(known.students),))
    return len(known.students)


def _hash(player: UUID) -> str:
    return mark_name(player).removeprefix("erased-").removesuffix(".json")


def _today() -> date:
    return datetime.now(UTC).date()
