"""Who is erased from a school is in none of its tables, and stays out when their files are delivered again."""

from datetime import date

from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_erasure import erase_from_school, students_in_school
from game.practice_log.school.school_schema import STUDENT_TABLES
from tests.practice_log.classes.students import ADA, BEN, CEM
from tests.practice_log.school.schools import brought

DAY = date(2026, 11, 30)


def places_of(connection, student):
    """The tables in any of whose columns a student's id stands."""
    columns = connection.execute(
        "SELECT relname, attname FROM pg_class JOIN pg_attribute ON attrelid = pg_class.oid AND attnum > 0 "
        "WHERE relnamespace = 'homefret'::regnamespace AND relkind IN ('r', 'p') AND NOT relispartition"
    ).fetchall()
    found = []
    for table, column in columns:
        asked = f'SELECT 1 FROM "{table}" WHERE CAST("{column}" AS TEXT) LIKE %s LIMIT 1'
        if connection.execute(asked, (f"%{student}%",)).fetchone():
            found.append(table)
    return found


def test_nothing_of_who_is_erased_is_left_and_they_stay_out(staff, files):
    server, school = staff
    brought(server, school, files)
    address = server.address(school, "gina")
    assert students_in_school(address, [CEM.uuid]) == ("Cem",)
    with school_connection(server.address(school)) as admin:
        assert {"student", "take", "note", "day_sums", "class_student"} <= set(places_of(admin, CEM.uuid))
        assert erase_from_school(address, [CEM.uuid], DAY) == 1
        assert places_of(admin, CEM.uuid) == []
        assert admin.execute("SELECT COUNT(*) FROM student").fetchone() == (2,)
        for table in STUDENT_TABLES:
            assert admin.execute(f"SELECT COUNT(*) FROM {table} WHERE student = %s", (CEM.uuid,)).fetchone() == (0,)
        told = brought(server, school, files)
        assert [fault.key for one in told.values() for fault in one.faults] == ["school.erased"] * 2
        assert places_of(admin, CEM.uuid) == []
    assert students_in_school(address, [CEM.uuid]) == ()
    assert students_in_school(address, [ADA.uuid, BEN.uuid]) == ("Ada", "Ben")


def test_who_was_never_there_is_kept_out_too(staff, files):
    server, school = staff
    assert erase_from_school(server.address(school, "gina"), [CEM.uuid], DAY) == 0
    told = brought(server, school, files)
    assert [(one.students, len(one.faults)) for one in told.values()] == [(1, 1), (1, 1)]
