"""The database itself refuses: everybody here is logged in as a person who owns nothing."""

from contextlib import contextmanager

import pytest

from game.errors import LogError
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_roles import (
    GATHERER,
    HEAD,
    OWNER,
    TEACHER,
    give_class,
    give_role,
    is_head,
    take_class,
)
from game.practice_log.school.school_schema import STUDENT_TABLES
from tests.practice_log.classes.students import ADA, BEN, CEM
from tests.practice_log.school.schools import CLASS_OF, PEOPLE
from tests.refusing import refusal
from tests.sampling import sample

TABLES_OF_NOBODY = ("brought", "erased", "day_sums", "delivery", "refused_file")
OWN = {ADA.uuid, CEM.uuid}


@contextmanager
def logged_in(full_school, person):
    server, school = full_school
    with school_connection(server.address(school, person)) as connection:
        yield connection


def refused(connection, statement):
    """Whether the database refuses a statement for want of a right."""
    from psycopg import errors

    try:
        connection.execute(statement)
    except errors.InsufficientPrivilege:
        return True
    return False


@pytest.mark.parametrize("table", sample([one for one in STUDENT_TABLES if one not in TABLES_OF_NOBODY], by_default=4))
def test_a_teacher_sees_the_rows_of_their_own_students_alone(full_school, table):
    with logged_in(full_school, "anna") as anna, logged_in(full_school, "gina") as gina:
        seen = {student for (student,) in anna.execute(f"SELECT student FROM {table}")}
        there = {student for (student,) in gina.execute(f"SELECT student FROM {table}")}
        assert seen == there & OWN
        assert anna.execute(f"SELECT COUNT(*) FROM {table} WHERE student = %s", (BEN.uuid,)).fetchone() == (0,)


def test_a_teacher_reads_nothing_of_what_is_none_of_theirs(full_school):
    with logged_in(full_school, "anna") as anna:
        assert all(refused(anna, f"SELECT * FROM {table}") for table in TABLES_OF_NOBODY)
        assert anna.execute("SELECT teacher, class FROM teacher_class").fetchall() == [("anna", "3a")]
        assert {name for (name,) in anna.execute("SELECT class FROM class_student")} == {"3a"}


def test_no_part_of_a_table_can_be_read_by_itself(full_school):
    with (
        logged_in(full_school, "anna") as anna,
        logged_in(full_school, "gina") as gina,
        logged_in(full_school, "hugo") as hugo,
    ):
        for connection in (anna, gina, hugo):
            assert all(refused(connection, f"SELECT * FROM {table}_0") for table in STUDENT_TABLES)


@pytest.mark.parametrize("table", sample([*STUDENT_TABLES, "teacher_class", "erased", "schema_version"], by_default=4))
def test_a_teacher_and_a_head_write_nothing(full_school, table):
    for person in ("anna", "hugo"):
        with logged_in(full_school, person) as connection:
            column = connection.execute(
                "SELECT attname FROM pg_attribute WHERE attrelid = %s::regclass AND attnum = 1", (table,)
            ).fetchone()[0]
            for statement in (
                f"DELETE FROM {table}",
                f"UPDATE {table} SET {column} = {column}",
                f"INSERT INTO {table} DEFAULT VALUES",
                f"TRUNCATE {table}",
                f"DROP TABLE {table}",
                f"ALTER TABLE {table} DISABLE ROW LEVEL SECURITY",
                f"CREATE POLICY all_of_it ON {table} USING (true)",
                f"SELECT * FROM {table} FOR UPDATE",
            ):
                assert refused(connection, statement), statement


@pytest.mark.parametrize("person", ["anna", "hugo", "gina"])
def test_nobody_takes_on_another_role_or_makes_anything(full_school, person):
    roles = {"anna": TEACHER, "hugo": HEAD, "gina": GATHERER}
    with logged_in(full_school, person) as connection:
        for role in {"admin", OWNER, "bob", *roles.values()} - {roles[person]}:
            assert refused(connection, f"SET ROLE {role}")
            assert refused(connection, f"SET SESSION AUTHORIZATION {role}")
        for statement in (
            "CREATE VIEW public.all_takes AS SELECT * FROM take",
            "CREATE FUNCTION public.all_takes() RETURNS bigint LANGUAGE sql SECURITY DEFINER AS 'SELECT 1'",
            "CREATE TABLE homefret.kept AS SELECT 1",
            "CREATE SCHEMA lent",
            "CREATE ROLE another",
            "ALTER TABLE take OWNER TO CURRENT_USER",
            f"GRANT {GATHERER} TO {person}" if person != "gina" else f"GRANT {HEAD} TO {person}",
        ):
            assert refused(connection, statement), statement
        if person != "gina":
            assert refused(connection, "CREATE TEMP TABLE kept AS SELECT 1")


def test_a_teacher_in_the_role_of_all_teachers_still_is_themselves(full_school):
    with logged_in(full_school, "anna") as anna:
        anna.execute(f"SET ROLE {TEACHER}")
        assert {student for (student,) in anna.execute("SELECT student FROM student")} == OWN


def test_row_security_cannot_be_turned_off(full_school):
    with logged_in(full_school, "anna") as anna:
        anna.execute("SET row_security = off")
        assert refused(anna, "SELECT * FROM take")


def test_neither_a_view_nor_a_function_of_another_teacher_shows_more(staff, files):
    """Also where whoever looks after the database lets one make such things."""
    from tests.practice_log.school.schools import brought

    server, school = staff
    brought(server, school, files)
    with logged_in(staff, "admin") as admin:
        admin.execute(
            "CREATE SCHEMA lent; GRANT USAGE, CREATE ON SCHEMA lent TO bob; GRANT USAGE ON SCHEMA lent TO anna"
        )
    with logged_in(staff, "bob") as bob:
        bob.execute("CREATE VIEW lent.pupils AS SELECT student FROM homefret.student")
        bob.execute(
            "CREATE FUNCTION lent.of_bob() RETURNS SETOF uuid LANGUAGE sql SECURITY DEFINER "
            "AS 'SELECT student FROM homefret.student'"
        )
        bob.execute("GRANT SELECT ON lent.pupils TO anna")
    with logged_in(staff, "anna") as anna:
        for source in ("lent.pupils", "lent.of_bob()"):
            assert {student for (student,) in anna.execute(f"SELECT * FROM {source}")} <= OWN


def test_a_head_sees_sums_of_everybody_and_no_note_and_no_name(full_school):
    with logged_in(full_school, "hugo") as hugo:
        assert is_head(hugo)
        assert {one for (one,) in hugo.execute("SELECT student FROM day_sums")} == {ADA.uuid, BEN.uuid, CEM.uuid}
        for table in {*STUDENT_TABLES, "erased", "refused_file"} - {"day_sums", "class_student"}:
            assert refused(hugo, f"SELECT * FROM {table}"), table


def test_a_gatherer_gives_nobody_a_class_and_unmarks_nobody(full_school):
    with logged_in(full_school, "gina") as gina:
        assert not is_head(gina)
        for statement in (
            "INSERT INTO teacher_class VALUES ('anna', '3b')",
            "DELETE FROM erased",
            "UPDATE erased SET day = ''",
            "TRUNCATE note",
            "DELETE FROM schema_version",
        ):
            assert refused(gina, statement) or gina.execute("SELECT COUNT(*) FROM schema_version").fetchone()[0] > 1


def test_every_table_and_part_is_guarded_even_from_its_owner_by_whom_nobody_logs_in(full_school):
    with logged_in(full_school, "admin") as admin:
        told = admin.execute(
            "SELECT relname, relrowsecurity AND relforcerowsecurity, relowner::regrole::text FROM pg_class "
            "WHERE relnamespace = 'homefret'::regnamespace AND relkind IN ('r', 'p', 'v', 'm')"
        ).fetchall()
        assert len(told) > 16 * len(STUDENT_TABLES)
        assert [name for name, is_guarded, owner in told if not is_guarded or owner != OWNER] == []
        assert admin.execute("SELECT rolcanlogin FROM pg_roles WHERE rolname = %s", (OWNER,)).fetchone() == (False,)
        admin.execute(f"SET ROLE {OWNER}")
        assert admin.execute("SELECT COUNT(*) FROM note").fetchone() == (0,)


def test_whoever_has_no_role_sees_nothing_at_all(full_school):
    server, school = full_school
    with logged_in(full_school, "admin") as admin:
        admin.execute("DROP ROLE IF EXISTS nobody_here")
        admin.execute("CREATE ROLE nobody_here LOGIN")
    with refusal(LogError, "nobody in"), school_connection(server.address(school, "nobody_here")):
        pass


def test_a_class_is_given_and_taken(staff, files):
    from tests.practice_log.school.schools import brought

    brought(*staff, files)
    with logged_in(staff, "admin") as admin, logged_in(staff, "anna") as anna:
        give_class(admin, "anna", "3b")
        give_class(admin, "anna", "3b")
        assert anna.execute("SELECT COUNT(*) FROM student").fetchone() == (3,)
        assert take_class(admin, "anna", "3b")
        assert not take_class(admin, "anna", "3b")
        assert anna.execute("SELECT COUNT(*) FROM student").fetchone() == (2,)


@pytest.mark.parametrize("name", ["", "x" * 64, "ä" * 32, OWNER, TEACHER])
def test_a_name_that_is_no_persons_is_refused(full_school, name):
    with logged_in(full_school, "admin") as admin, refusal(LogError, "cannot be"):
        give_role(admin, name, TEACHER)


def test_a_name_is_a_name_whatever_signs_are_in_it(full_school):
    with logged_in(full_school, "admin") as admin:
        give_role(admin, 'Anna "; DROP TABLE note; --', TEACHER)
        assert admin.execute("SELECT COUNT(*) FROM note").fetchone()[0] > 0


def test_one_whom_the_database_refuses_nothing_is_made_no_teacher(full_school):
    with logged_in(full_school, "admin") as admin, refusal(LogError, "admin may do everything"):
        give_class(admin, "admin", "3a")


def test_nobody_gathers_who_is_a_teacher_or_a_head_and_a_head_may_teach(full_school):
    with logged_in(full_school, "admin") as admin:
        for person, role in (("anna", GATHERER), ("hugo", GATHERER), ("gina", TEACHER), ("gina", HEAD)):
            with refusal(LogError, f"{person} would see everybody"):
                give_role(admin, person, role)
        give_class(admin, "head_who_teaches", "3b")
        give_role(admin, "head_who_teaches", HEAD)
    with logged_in(full_school, "head_who_teaches") as both:
        assert not is_head(both)
        for table in set(STUDENT_TABLES) - {*TABLES_OF_NOBODY, "class_student"}:
            assert {one for (one,) in both.execute(f"SELECT student FROM {table}")} <= {BEN.uuid, CEM.uuid}
        assert {one for (one,) in both.execute("SELECT student FROM day_sums")} == {ADA.uuid, BEN.uuid, CEM.uuid}
    with logged_in(full_school, "admin") as admin:
        take_class(admin, "head_who_teaches", "3b")


def test_a_teacher_gives_themselves_no_class(full_school):
    with refusal(LogError, "allows you none of that"), logged_in(full_school, "anna") as anna:
        give_class(anna, "anna", "3b")


assert {"gina", "hugo"} == PEOPLE.keys()
assert {"anna", "bob"} == CLASS_OF.keys()
