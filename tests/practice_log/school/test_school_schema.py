"""The tables of a school come about step by step, once, whoever else is at it, and in each version as it should be."""

from concurrent.futures import ThreadPoolExecutor

import pytest

from game.errors import LogError
from game.practice_log.classes.class_schema import CLASS_VERSION
from game.practice_log.school import school_schema
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_schema import (
    OWN_STEPS,
    PARTITIONS,
    STUDENT_TABLES,
    refuse_other_version,
    set_up_school,
)
from tests.practice_log.school.schools import brought
from tests.refusing import refusal
from tests.sampling import only_where_all_is_run

WHOLE = only_where_all_is_run("a database of one test alone")


def test_every_table_of_students_has_its_parts_by_student(full_school):
    server, school = full_school
    with school_connection(server.address(school)) as connection:
        refuse_other_version(connection)
        parts = dict(
            connection.execute(
                "SELECT inhparent::regclass::text, COUNT(*) FROM pg_inherits JOIN pg_class ON pg_class.oid = inhrelid "
                "WHERE relkind = 'r' GROUP BY 1"
            ).fetchall()
        )
        assert parts == dict.fromkeys(STUDENT_TABLES, PARTITIONS)
        names = connection.execute("SELECT name FROM schema_version ORDER BY name").fetchall()
        assert [name for (name,) in names] == sorted([f"class {CLASS_VERSION}", *(name for name, _ in OWN_STEPS)])


@WHOLE
def test_a_database_that_is_not_set_up_is_told_so(school_server):
    with (
        refusal(LogError, "not set up for a school"),
        school_connection(school_server.address(school_server.made())) as connection,
    ):
        refuse_other_version(connection)


def test_a_newer_program_makes_the_tables_of_students_anew_and_keeps_the_rest(staff, files, monkeypatch):
    server, school = staff
    brought(server, school, files)
    with school_connection(server.address(school)) as admin:
        admin.execute("INSERT INTO erased VALUES ('a hash', '2026-11-30')")
        monkeypatch.setattr(school_schema, "CLASS_VERSION", CLASS_VERSION + 1)
        with refusal(LogError, "of an older Homefret"):
            refuse_other_version(admin)
        with refusal(LogError, "of an older Homefret"):
            brought(server, school, files)
        set_up_school(admin)
        refuse_other_version(admin)
        assert admin.execute("SELECT COUNT(*) FROM student").fetchone() == (0,)
        assert admin.execute("SELECT COUNT(*) FROM teacher_class").fetchone() == (2,)
        assert admin.execute("SELECT COUNT(*) FROM erased").fetchone() == (1,)
    assert brought(server, school, files)["3a"].changed == 2
    # The program of before is told that it is too old, and changes nothing.
    monkeypatch.undo()
    with school_connection(server.address(school)) as admin:
        for work in (refuse_other_version, set_up_school):
            with refusal(LogError, "newer Homefret"):
                work(admin)
        assert admin.execute("SELECT COUNT(*) FROM student").fetchone() == (3,)


@WHOLE
def test_two_who_set_up_at_once_wait_for_each_other(school_server):
    name = school_server.made()

    def set_up(_):
        with school_connection(school_server.address(name)) as connection:
            set_up_school(connection)
            refuse_other_version(connection)
        return True

    with ThreadPoolExecutor(2) as pool:
        assert all(pool.map(set_up, range(2)))


def test_a_step_that_breaks_leaves_the_database_as_it_was(school_server, school, monkeypatch):
    monkeypatch.setattr(
        school_schema, "OWN_STEPS", (*OWN_STEPS, ("broken", ("CREATE TABLE one (a INTEGER)", "CREATE TABLE one")))
    )
    with refusal(LogError, "takes nothing of this"), school_connection(school_server.address(school)) as connection:
        set_up_school(connection)
    monkeypatch.undo()
    with school_connection(school_server.address(school)) as connection:
        refuse_other_version(connection)
        assert connection.execute("SELECT to_regclass('homefret.one')").fetchone() == (None,)


def test_rights_changed_by_hand_are_set_anew(school_server, school):
    with school_connection(school_server.address(school)) as connection:
        connection.execute(
            "GRANT ALL ON take, take_0 TO homefret_teacher, PUBLIC; ALTER TABLE take NO FORCE ROW LEVEL SECURITY"
        )
        set_up_school(connection)
        told = connection.execute(
            "SELECT relforcerowsecurity, has_table_privilege('homefret_teacher', oid, 'DELETE') FROM pg_class "
            "WHERE relname IN ('take', 'take_0')"
        ).fetchall()
        assert told == [(True, False)] * 2


@WHOLE
def test_a_database_of_one_languages_letters_is_refused(school_server):
    with (
        refusal(LogError, "createdb -E UTF8"),
        school_connection(school_server.address(school_server.made(encoding="LATIN1"))) as connection,
    ):
        set_up_school(connection)


def test_whoever_may_not_set_up_is_told_so(staff):
    server, school = staff
    with refusal(LogError, "allows you none of that"), school_connection(server.address(school, "anna")) as connection:
        set_up_school(connection)


@pytest.mark.parametrize("version", [120004, 90600])
def test_an_old_server_is_refused(version):
    class Info:
        server_version = version

    class Connection:
        info = Info()

    with refusal(LogError, "PostgreSQL 13 or newer"):
        set_up_school(Connection())
