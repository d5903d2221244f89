"""A log is opened, or refused in one sentence."""

import sqlite3

from game.errors import LogError
from game.practice_log.database.migrations import applied
from game.practice_log.database.store import open_store
from tests.practice_log.logged_takes import MORNING
from tests.refusing import refusal


def test_a_log_can_be_held_in_memory():
    log = open_store(None, now_utc=MORNING)
    assert applied(log)
    log.close()


def test_a_log_is_written_ahead_and_to_the_disk_at_every_commit(tmp_path):
    log = open_store(tmp_path / "practice.sqlite", now_utc=MORNING)
    assert log.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert log.execute("PRAGMA synchronous").fetchone() == (2,)
    assert log.execute("PRAGMA foreign_keys").fetchone() == (1,)
    log.close()


def test_a_file_that_is_no_database_is_refused_and_left_alone(tmp_path):
    path = tmp_path / "shopping.sqlite"
    path.write_text("strings, plectrums, a chair without arms" * 50, encoding="utf-8")
    with refusal(LogError, r"shopping\.sqlite is not a practice log: move it away"):
        open_store(path, now_utc=MORNING)
    assert path.read_text(encoding="utf-8").startswith("strings, plectrums")


def test_the_database_of_another_program_is_refused_and_left_alone(tmp_path):
    path = tmp_path / "stamps.sqlite"
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE stamp (stamp INTEGER PRIMARY KEY)")
    other.close()
    with refusal(LogError, r"stamps\.sqlite is not a practice log"):
        open_store(path, now_utc=MORNING)
    other = sqlite3.connect(path)
    assert other.execute("SELECT name FROM sqlite_master").fetchall() == [("stamp",)]
    other.close()


def test_the_file_says_whose_it_is(tmp_path):
    path = tmp_path / "practice.sqlite"
    open_store(path, now_utc=MORNING).close()
    # SQLite, "Database File Format": the application id stands at offset 68, big-endian.
    assert path.read_bytes()[68:72] == b"Home"
