"""Whom a school's database knows by some ids, held until the end of the transaction: nobody else brings, moves or
erases them meanwhile.
"""

from collections.abc import Collection
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from uuid import UUID

if TYPE_CHECKING:
    from psycopg import Connection


@dataclass(frozen=True, slots=True)
class KnownStudents:
    """The students, and all ids by which they are known, those that were asked for too."""

    students: frozenset[UUID]
    ids: frozenset[UUID]


def students_known_by(connection: "Connection[Any]", ids: Collection[UUID]) -> KnownStudents:
    """Whoever is known by one of these ids, or by one that they share with somebody who is. To be called in a
    transaction, which then holds the locks of all of these ids.
    """
    from psycopg import Rollback  # noqa: PLC0415

    wanted, known = frozenset(ids), None
    while known is None:
        with connection.transaction() as held:
            for one in sorted(wanted):
                connection.execute("SELECT pg_advisory_xact_lock(%s)", (lock_of(one),))
            found = _found(connection, wanted)
            if not found.ids <= wanted:
                # Let go of all, and begun anew from the lowest: so no two wait for each other.
                wanted |= found.ids
                raise Rollback(held)
            known = found
    return known


def _found(connection: "Connection[Any]", ids: frozenset[UUID]) -> KnownStudents:
    """By one step: whoever shares an id with them is found the next time round."""
    rows = connection.execute(
        "SELECT student, player FROM same_player WHERE student IN "
        "(SELECT student FROM same_player WHERE player = ANY (%s) OR student = ANY (%s))",
        (list(ids), list(ids)),
    ).fetchall()
    students = frozenset(student for student, _ in rows)
    return KnownStudents(students, ids | students | {player for _, player in rows})


def lock_of(one: UUID) -> int:
    """The number of an id's lock: two ids with the same one only wait for each other now and then."""
    high, low = (int.from_bytes(half, "big", signed=True) for half in (one.bytes[:8], one.bytes[8:]))
    return high ^ low
