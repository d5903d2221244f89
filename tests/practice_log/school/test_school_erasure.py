"""Who is erased from a school is in none of its tables, and stays out when their files are delivered again."""

import os
from datetime import date

import pytest

from game.practice_log.school.into_school import bring_into_school
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_erasure import FolderMarks, erase_from_school, marks_of
from game.practice_log.school.school_schema import STUDENT_TABLES
from game.practice_log.transfer.erased import mark_name
from tests.practice_log.classes.students import ADA, BEN, CEM
from tests.practice_log.school.schools import brought, names_in_school

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
    assert names_in_school(address, [CEM.uuid]) == ("Cem",)
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
    assert names_in_school(address, [CEM.uuid]) == ()
    assert names_in_school(address, [ADA.uuid, BEN.uuid]) == ("Ada", "Ben")


def test_who_was_never_there_is_kept_out_too(staff, files):
    server, school = staff
    assert erase_from_school(server.address(school, "gina"), [CEM.uuid], DAY) == 0
    told = brought(server, school, files)
    assert [(one.students, len(one.faults)) for one in told.values()] == [(1, 1), (1, 1)]


def in_class_3a(staff, files, folder):
    server, school = staff
    return bring_into_school(files["3a"], server.address(school, "gina"), "3a", marks=marks_of(folder, folder / "own"))


def is_there(staff, player):
    server, school = staff
    with school_connection(server.address(school)) as admin:
        return bool(places_of(admin, player.uuid))


@pytest.mark.parametrize("left_in", ["3a", "own"])
def test_a_mark_in_the_folder_they_came_from_or_of_this_computer_erases_in_the_school(staff, files, tmp_path, left_in):
    brought(*staff, files)
    place = tmp_path / left_in
    place.mkdir(exist_ok=True)
    (place / mark_name(CEM.uuid)).write_text("{}")
    told = bring_into_school(
        files["3a"], staff[0].address(staff[1], "gina"), "3a", marks=marks_of(tmp_path / "3a", tmp_path / "own")
    )
    assert (told.erased, is_there(staff, CEM)) == (1, False)
    assert brought(*staff, {"3b": files["3b"]})["3b"].faults[0].key == "school.erased"


@pytest.mark.parametrize(("below", "player"), [("cem", ADA), ("cem", CEM), ("", BEN)])
def test_a_mark_in_a_students_own_folder_or_of_another_class_erases_nobody_and_is_told(
    staff, files, tmp_path, below, player
):
    """Whoever knows another's id could leave one: of a class mate, of somebody in another class."""
    brought(*staff, files)
    place = tmp_path / "3a" / below
    place.mkdir(exist_ok=True)
    mark = place / mark_name(player.uuid)
    mark.write_text("{}")
    for _ in range(2):
        told = in_class_3a(staff, files, tmp_path / "3a")
        assert (told.erased, is_there(staff, player)) == (0, True)
        assert [(fault.key, dict(fault.values)["name"]) for fault in told.faults] == [
            ("school.stays_though_marked", player.name)
        ]
    # And whoever comes later with their files is let in.
    assert brought(*staff, files)["3b"].faults == []
    mark.unlink()
    assert in_class_3a(staff, files, tmp_path / "3a").faults == []


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root gives a file to somebody else")
def test_a_mark_that_belongs_to_nobody_who_looks_after_the_folder_is_as_one_below(tmp_path):
    mark = tmp_path / mark_name(ADA.uuid)
    mark.write_text("{}")
    assert marks_of(tmp_path, tmp_path / "own").of_folder == {mark.name}
    os.chown(mark, 12345, -1)
    assert marks_of(tmp_path, tmp_path / "own") == FolderMarks(below=frozenset({mark.name}))
    os.chown(tmp_path, 12345, -1)
    assert marks_of(tmp_path, tmp_path / "own").of_folder == {mark.name}
