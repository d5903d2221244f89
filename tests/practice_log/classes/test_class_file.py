"""The file of a class is made, known again by its header, and thrown away only where it is one of ours."""

import sqlite3
import stat
from contextlib import closing
from uuid import UUID

from game.errors import LogError
from game.practice_log.classes import class_file
from game.practice_log.classes.class_file import forget_student, is_class_file, open_class, settle_class
from game.practice_log.classes.class_schema import CLASS_VERSION, TABLES, insert_statement
from game.practice_log.database.store import open_store
from tests.practice_log.logged_takes import MORNING
from tests.refusing import refusal

ADA, BEN = UUID(int=1), UUID(int=2)


def _students(connection):
    return connection.execute("SELECT name FROM student ORDER BY name").fetchall()


def test_a_new_file_is_its_owners_alone_and_holds_empty_tables(tmp_path):
    path = tmp_path / "deep" / "class.sqlite"
    with open_class(path) as connection:
        counts = [connection.execute(f"SELECT COUNT(*) FROM {table}").fetchone() for table in TABLES]
        assert counts == [(0,)] * len(TABLES)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert is_class_file(path)


def test_what_stands_in_it_is_there_the_next_time_unless_another_version_made_it(tmp_path):
    path = tmp_path / "class.sqlite"
    with open_class(path) as connection:
        connection.execute(insert_statement("student"), (ADA.bytes, "Ada", ""))
        settle_class(connection)
    with open_class(path) as connection:
        assert _students(connection) == [("Ada",)]
        connection.execute(f"PRAGMA user_version = {CLASS_VERSION - 1}")
    with open_class(path) as connection:
        assert _students(connection) == []
        connection.execute(f"PRAGMA user_version = {CLASS_VERSION + 1}")
    with refusal(LogError, "newer Homefret"), open_class(path):
        pass


def test_a_log_or_anything_else_is_never_taken_for_a_class(tmp_path):
    log = tmp_path / "practice.sqlite"
    open_store(log, now_utc=MORNING).close()
    (tmp_path / "diary.txt").write_text("dear diary", encoding="utf-8")
    for path in (log, tmp_path / "diary.txt"):
        before = path.read_bytes()
        with refusal(LogError, path.name), open_class(path):
            pass
        assert path.read_bytes() == before
        assert not is_class_file(path)


def test_a_file_that_cannot_be_written_is_told_in_a_sentence(tmp_path):
    with refusal(LogError, "later"), open_class(tmp_path):
        pass


def test_a_student_who_is_forgotten_is_in_no_table_and_no_page_of_the_file(tmp_path):
    path = tmp_path / "class.sqlite"
    with open_class(path) as connection:
        for student, name in ((ADA, "Ada Lovelace"), (BEN, "Ben")):
            connection.execute(insert_statement("student"), (student.bytes, name, ""))
            connection.execute(insert_statement("mark"), (student.bytes, 1, "found", 1, "2026-11-30"))
        forget_student(connection, ADA)
        assert _students(connection) == [("Ben",)]
        assert connection.execute("SELECT COUNT(*) FROM mark").fetchone() == (1,)
    assert b"Lovelace" not in path.read_bytes()
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_a_full_disk_leaves_no_empty_file_that_looks_like_an_export(tmp_path, monkeypatch):
    def full(_):
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr(class_file, "_prepare", full)
    (tmp_path / "there.sqlite").touch()
    for name in ("class.sqlite", "there.sqlite"):
        with refusal(LogError, "disk is full"), open_class(tmp_path / name):
            pass
    assert [path.name for path in tmp_path.iterdir()] == ["there.sqlite"]
