"""A SQLite file from elsewhere is read with care, and nothing of its schema is trusted."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.database.store import open_store
from game.practice_log.foreign import foreign_log as module
from game.practice_log.foreign.foreign_log import (
    LONGEST_VALUE,
    columns_there,
    damaged_log,
    foreign_log,
    migrations_there,
)
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, begun
from tests.practice_log.transfer.hostile_files import ENDLESS, log_of, planted
from tests.refusing import refusal


def takes_in(path: Path) -> int:
    with foreign_log(path) as log:
        return log.execute("SELECT count(*) FROM take").fetchone()[0]


def test_nothing_is_written_and_nothing_is_left_beside_it(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 2)
    before = path.read_bytes()
    with foreign_log(path) as log, pytest.raises(sqlite3.OperationalError):
        log.execute("CREATE TABLE x (y)")
    assert (path.read_bytes(), [file.name for file in tmp_path.iterdir()]) == (before, ["a.sqlite"])


@pytest.fixture
def with_journal(tmp_path: Path) -> Path:
    """A log whose last take stands in the journal beside it, as after a crash."""
    log = open_store(log_of(tmp_path / "open.sqlite", 2), now_utc=MORNING)
    put_take(log, begun(minutes=9), DEVICE)
    (tmp_path / "handed").mkdir()
    for ending in ("", "-wal"):
        shutil.copyfile(tmp_path / f"open.sqlite{ending}", tmp_path / "handed" / f"a.sqlite{ending}")
    log.close()
    return tmp_path / "handed" / "a.sqlite"


def test_what_stands_in_the_journal_beside_it_is_seen(with_journal: Path):
    assert takes_in(with_journal) == 3


def test_and_where_the_folder_cannot_be_written_too(with_journal: Path, monkeypatch):
    before = sorted(with_journal.parent.iterdir())
    monkeypatch.setattr(module.os, "access", lambda *_: False)
    assert takes_in(with_journal) == 3
    assert sorted(with_journal.parent.iterdir()) == before


def test_a_log_without_journal_in_such_a_folder_is_read_as_it_lies_there(tmp_path: Path, monkeypatch):
    path = log_of(tmp_path / "a.sqlite", 2)
    monkeypatch.setattr(module.os, "access", lambda *_: False)
    assert takes_in(path) == 2


@pytest.mark.parametrize(
    "statement",
    [
        f"CREATE VIEW planted AS {ENDLESS}",
        "CREATE VIRTUAL TABLE planted USING fts5(take)",
        "CREATE TEMP TABLE planted (a)",
        "CREATE TRIGGER planted BEFORE INSERT ON take BEGIN SELECT 1; END",
    ],
)
def test_only_columns_of_real_tables_count(tmp_path: Path, statement: str):
    path = planted(log_of(tmp_path / "a.sqlite", 1), "CREATE TABLE other (one, two AS (one))", statement)
    with foreign_log(path) as log:
        assert columns_there(log, "other") == ["one"]
        assert columns_there(log, "planted") == columns_there(log, "none at all") == []


def test_a_text_of_more_than_a_row_may_hold_is_not_fetched(tmp_path: Path):
    path = planted(log_of(tmp_path / "a.sqlite", 1), "CREATE TABLE t (x)", "INSERT INTO t VALUES (zeroblob(5000000))")
    assert LONGEST_VALUE < 5_000_000
    with foreign_log(path) as log, pytest.raises(sqlite3.DataError, match="too big"):
        log.execute("SELECT x FROM t").fetchall()


def test_text_that_is_none_is_read_with_a_sign_in_its_place(tmp_path: Path):
    path = planted(
        log_of(tmp_path / "a.sqlite", 1), "CREATE TABLE t (x)", "INSERT INTO t VALUES (CAST(x'41FF' AS TEXT))"
    )
    with foreign_log(path) as log:
        assert log.execute("SELECT x FROM t").fetchall() == [("A\N{REPLACEMENT CHARACTER}",)]


@pytest.mark.parametrize("left", [50, -1, -4095])
def test_a_file_whose_end_is_gone_is_refused(tmp_path: Path, left: int):
    path = log_of(tmp_path / "a.sqlite", 3)
    path.write_bytes(path.read_bytes()[:left])
    with refusal(LogError, "a.sqlite is damaged .its end is missing."), foreign_log(path):
        pass


def test_of_a_damaged_log_a_page_that_is_there_in_part_is_not_taken_for_zeros(tmp_path: Path):
    with closing(sqlite3.connect(tmp_path / "a.sqlite", isolation_level=None)) as log, log:
        log.execute("CREATE TABLE t (x INTEGER PRIMARY KEY, y TEXT)")
        log.execute("BEGIN")
        log.executemany("INSERT INTO t (y) VALUES (?)", [("y" * 100,)] * 200)
        log.execute("COMMIT")
    log.close()
    content = (tmp_path / "a.sqlite").read_bytes()
    (tmp_path / "a.sqlite").write_bytes(content[:-500])
    with damaged_log(tmp_path / "a.sqlite") as log:
        rows = log.execute("SELECT y FROM t")
        read = []
        with pytest.raises(sqlite3.DatabaseError):
            read += iter(rows.fetchone, None)
        assert {text for (text,) in log.execute("SELECT y FROM t LIMIT 100")} == {"y" * 100}


def test_the_migrations_of_a_log_are_told(tmp_path: Path):
    with foreign_log(log_of(tmp_path / "a.sqlite", 1)) as log:
        assert migrations_there(log, "a") == [migration.name for migration in MIGRATIONS]


@pytest.mark.parametrize(
    ("statement", "sentence"),
    [
        ("PRAGMA application_id = 7", "no practice log of Homefret"),
        ("DROP TABLE migration", "no practice log of Homefret"),
        ("INSERT INTO migration (name, applied_utc) VALUES ('of tomorrow', '')", "newer Homefret"),
        ("DELETE FROM migration WHERE name = 'takes'", "no practice log of Homefret"),
    ],
)
def test_what_is_none_of_ours_or_newer_is_refused(tmp_path: Path, statement: str, sentence: str):
    path = planted(log_of(tmp_path / "a.sqlite", 1), statement)
    with foreign_log(path) as log, refusal(LogError, sentence):
        migrations_there(log, "a")
