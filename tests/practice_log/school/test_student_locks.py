"""Whoever is known by one of some ids is found by all of them, and held."""

from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.student_locks import lock_of, students_known_by
from tests.practice_log.classes.students import ADA
from tests.refusing import refusal

ONE, TWO, THREE, OTHER = (UUID(int=number) for number in (11, 12, 13, 99))


def test_ids_are_followed_from_one_student_to_the_next_and_held_until_the_end(school_server, school):
    address = school_server.address(school)
    with school_connection(address) as connection, school_connection(address) as other:
        connection.execute(
            "INSERT INTO same_player VALUES (%s, %s), (%s, %s), (%s, %s), (%s, %s)",
            (ONE, ONE, ONE, TWO, TWO, TWO, TWO, THREE),
        )
        with connection.transaction():
            known = students_known_by(connection, [THREE, OTHER])
            assert (known.students, known.ids) == ({ONE, TWO}, {ONE, TWO, THREE, OTHER})
            for one in (ONE, TWO, THREE, OTHER):
                free = "SELECT pg_try_advisory_xact_lock(%s)"
                assert other.execute(free, (lock_of(one),)).fetchone() == (False,)
            assert other.execute(free, (lock_of(ADA.uuid),)).fetchone() == (True,)
        assert other.execute(free, (lock_of(ONE),)).fetchone() == (True,)


def test_whoever_waits_too_long_for_another_is_told_so(school_server, school, monkeypatch):
    monkeypatch.setattr("game.practice_log.school.school_connection._WAITS_FOR_OTHERS_S", 0.01)
    address = school_server.address(school)
    with school_connection(address) as connection, connection.transaction():
        students_known_by(connection, [ONE])
        with (
            refusal(LogError, "somebody else is at work"),
            school_connection(address) as other,
            other.transaction(),
        ):
            students_known_by(other, [ONE])


@pytest.mark.parametrize("one", [UUID(int=0), UUID(int=2**128 - 1), UUID(int=2**127), UUID(int=2**63)])
def test_every_id_has_a_number_that_a_lock_can_have(one):
    assert -(2**63) <= lock_of(one) < 2**63
