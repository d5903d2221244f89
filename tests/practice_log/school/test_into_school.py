"""What a class's file holds is in the school's database, however often, by whomever and in whatever order it comes."""

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.database.identity import Identity
from game.practice_log.school.into_school import bring_into_school
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.student_locks import students_known_by
from tests.practice_log.classes.students import ADA, BEN, CEM, hand_in, student
from tests.practice_log.school.schools import brought, gathered, in_file, in_school
from tests.refusing import refusal


def test_all_that_the_files_of_two_classes_hold_is_in_the_database(staff, files):
    told = brought(*staff, files)
    assert [(one.students, one.changed, one.faults) for one in told.values()] == [(2, 2, []), (2, 2, [])]
    for player, class_name in ((ADA, "3a"), (BEN, "3b"), (CEM, "3a")):
        # Of a file that lies in two folders under one name the last one counts.
        without = {"without": {"delivery"} if player == CEM else ()}
        assert in_school(staff, player, **without) == in_file(files[class_name], player, **without)
    assert in_school(staff, ADA)["note"]


def test_what_did_not_change_is_not_brought_again(staff, files):
    brought(*staff, files)
    told = brought(*staff, files)
    assert [(one.students, one.changed, one.takes) for one in told.values()] == [(2, 0, 0), (2, 0, 0)]


def test_more_practice_is_added_to_what_is_there(staff, tmp_path):
    ada = student(ADA, 1, steps=3)
    hand_in(ada, tmp_path / "3a" / "ada.zip")
    path = gathered(tmp_path / "3a", tmp_path / "3a.sqlite")
    brought(*staff, {"3a": path})
    hand_in(ada.practise(6), tmp_path / "3a" / "ada later.zip", later_days=1)
    gather_class(tmp_path / "3a", path)
    assert brought(*staff, {"3a": path})["3a"].changed == 1
    assert in_school(staff, ADA) == in_file(path, ADA)


def test_an_older_export_in_another_folder_takes_nothing_away(staff, tmp_path):
    ada = student(ADA, 1, steps=3)
    hand_in(ada, tmp_path / "old" / "ada.zip")
    hand_in(ada.practise(8), tmp_path / "new" / "ada.zip", later_days=1)
    old, new = (gathered(tmp_path / name, tmp_path / f"{name}.sqlite") for name in ("old", "new"))
    brought(*staff, {"3a": new})
    brought(*staff, {"3b": old})
    known = in_school(staff, ADA, without={"delivery"})
    assert known == in_file(new, ADA, without={"delivery"})


@pytest.mark.parametrize("order", [("home", "school"), ("school", "home")])
def test_two_folders_that_each_know_other_takes_of_a_student_lose_none(staff, tmp_path, order):
    """And the sums of days and passages are those of one folder with both files, but how often bars were met."""
    for number, name in ((1, "home"), (2, "school")):
        hand_in(student(ADA, number, steps=6), tmp_path / name / "ada.zip")
        hand_in(student(ADA, number, steps=6), tmp_path / "both" / f"{name}.zip")
    files = {name: gathered(tmp_path / name, tmp_path / f"{name}.sqlite") for name in (*order, "both")}
    brought(*staff, {name: files[name] for name in order})
    known, both = in_school(staff, ADA), in_file(files["both"], ADA)
    assert known["note"] == both["note"]
    assert len(known["take"]) == len(both["take"])
    server, school = staff
    days = "SELECT day, takes, CAST(ROUND(CAST(minutes * 1000 AS NUMERIC)) AS INTEGER) FROM day ORDER BY day"
    passages = "SELECT passage_key, takes, first_day, last_day, newest_bpm, clean_bpm FROM passage ORDER BY passage_key"
    with school_connection(server.address(school)) as connection, closing(sqlite3.connect(files["both"])) as file:
        for statement in (days, passages):
            assert connection.execute(statement).fetchall() == file.execute(statement).fetchall()
    # Once a folder has all of it, every number is that of the one file.
    brought(*staff, {"both": files["both"]})
    without = {"without": {"delivery"}}
    assert in_school(staff, ADA, **without) == in_file(files["both"], ADA, **without)


def test_gatherers_of_two_folders_at_once_lose_nothing(staff, tmp_path):
    """Each of several times, both beginning at the same moment."""
    server, school = staff
    for number, name in ((1, "home"), (2, "school")):
        for player in (ADA, BEN, CEM):
            hand_in(student(player, number, steps=4), tmp_path / name / f"{player.name}.zip")
            hand_in(student(player, number, steps=4), tmp_path / "both" / f"{name} {player.name}.zip")
    files = {name: gathered(tmp_path / name, tmp_path / f"{name}.sqlite") for name in ("home", "school", "both")}
    for _ in range(5):
        with ThreadPoolExecutor(2) as pool:
            for told in pool.map(lambda name: brought(*staff, {name: files[name]})[name], ("home", "school")):
                assert told.faults == []
        for player in (ADA, BEN, CEM):
            assert in_school(staff, player)["note"] == in_file(files["both"], player)["note"]
        with school_connection(server.address(school)) as connection:
            for table in ("note", "take", "student", "class_student", "brought"):
                connection.execute(f"DELETE FROM {table}")


def test_a_student_of_two_ids_becomes_one_once_a_file_says_so(staff, tmp_path):
    other = Identity(uuid=UUID(int=0xADA1), name="Ada")
    at_home, at_school = student(ADA, 1, steps=4), student(other, 2, steps=4)
    hand_in(at_home, tmp_path / "home" / "ada.zip")
    hand_in(at_school, tmp_path / "school" / "ada.zip")
    files = {name: gathered(tmp_path / name, tmp_path / f"{name}.sqlite") for name in ("home", "school")}
    brought(*staff, files)
    before = len(in_school(staff, ADA)["take"]), len(in_school(staff, other)["take"])
    assert all(before)
    with closing(sqlite3.connect(files["home"], isolation_level=None)) as file:
        file.execute("INSERT INTO same_player VALUES (?, ?)", (ADA.uuid.bytes, other.uuid.bytes))
    brought(*staff, {"home": files["home"]})
    assert len(in_school(staff, ADA)["take"]) == sum(before)
    assert not any(in_school(staff, other).values())
    # Who brings them under the other id finds the one.
    hand_in(at_school.practise(3), tmp_path / "school" / "ada.zip")
    gather_class(tmp_path / "school", files["school"])
    brought(*staff, {"school": files["school"]})
    assert len(in_school(staff, ADA)["take"]) > sum(before)
    assert not any(in_school(staff, other).values())


def test_two_of_different_names_who_become_one_are_told_of_once(staff, files):
    """A file that was made by hand may name anybody's id."""
    brought(*staff, {"3a": files["3a"]})
    with closing(sqlite3.connect(files["3b"], isolation_level=None)) as file:
        file.execute("INSERT INTO same_player VALUES (?, ?)", (BEN.uuid.bytes, ADA.uuid.bytes))
    (fault,) = brought(*staff, {"3b": files["3b"]})["3b"].faults
    assert (fault.key, dict(fault.values)) == ("school.became_one", {"name": "Ben", "others": ("Ada",)})
    with closing(sqlite3.connect(files["3b"], isolation_level=None)) as file:
        file.execute("UPDATE student SET named = 'Benjamin' WHERE student = ?", (BEN.uuid.bytes,))
    for name in ("3b", "3a", "3b"):
        assert brought(*staff, {name: files[name]})[name].faults == []


def test_who_is_no_longer_in_the_folder_is_no_longer_in_the_class(staff, files, tmp_path):
    server, school = staff
    brought(*staff, files)
    (tmp_path / "3a" / "Cem.zip").unlink()
    gather_class(tmp_path / "3a", files["3a"])
    brought(*staff, {"3a": files["3a"]})
    with school_connection(server.address(school)) as connection:
        classes = connection.execute("SELECT class FROM class_student WHERE student = %s", (CEM.uuid,)).fetchall()
    assert classes == [("3b",)]
    assert in_school(staff, CEM)["take"]


def test_a_row_that_no_database_takes_leaves_out_its_student_alone(staff, files):
    with closing(sqlite3.connect(files["3a"], isolation_level=None)) as file:
        file.execute("UPDATE take SET notes = ? WHERE student = ?", (2**40, ADA.uuid.bytes))
        file.execute("UPDATE student SET name = ? WHERE student = ?", ("C\0em", CEM.uuid.bytes))
    told = brought(*staff, files)["3a"]
    assert [fault.key for fault in told.faults] == ["school.student_left_out"]
    assert not any(in_school(staff, ADA).values())
    assert in_school(staff, CEM)["student"] == ["('Cem', '')"]


def test_a_gatherer_whose_connection_breaks_goes_on_the_next_time(staff, files, monkeypatch):
    """Whoever was whole stays, and nobody is there by half."""
    server, school = staff
    met = []

    def breaking(connection, ids):
        met.append(ids)
        if len(met) == 2:
            with school_connection(server.address(school)) as admin:
                admin.execute("SELECT pg_terminate_backend(%s)", (connection.info.backend_pid,))
        return students_known_by(connection, ids)

    monkeypatch.setattr("game.practice_log.school.into_school.students_known_by", breaking)
    with refusal(LogError, "went away meanwhile"):
        brought(*staff, {"3a": files["3a"]})
    monkeypatch.undo()
    assert in_school(staff, ADA) == in_file(files["3a"], ADA)
    assert not any(in_school(staff, CEM).values())
    assert brought(*staff, {"3a": files["3a"]})["3a"].changed == 1
    assert in_school(staff, CEM) == in_file(files["3a"], CEM)


def test_a_file_that_is_no_class_is_told_so(staff, tmp_path):
    server, school = staff
    path = tmp_path / "none.sqlite"
    path.write_bytes(b"no database" * 100)
    with refusal(LogError, "none.sqlite"):
        bring_into_school(path, server.address(school, "gina"), "3a")
