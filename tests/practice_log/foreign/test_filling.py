"""Rows from elsewhere make a log of our own, or nothing."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.database.known_tables import known_columns
from game.practice_log.database.migrations import MIGRATIONS, applied
from game.practice_log.database.store import APPLICATION_ID
from game.practice_log.foreign.filling import log_of_lines, write_log
from game.practice_log.foreign.row_lines import FileHead, TableHead, decoded_lines
from game.practice_log.foreign.rows_of_file import rows_of_file
from tests.practice_log.logged_takes import MORNING
from tests.practice_log.transfer.hostile_files import log_of, planted

HEAD = FileHead(migrations=["takes"])
DEVICES = TableHead(table="device", columns=["device", "uuid", "name"])
ALL = [migration.name for migration in MIGRATIONS]


def everything(log: sqlite3.Connection):
    return {table: log.execute(f"SELECT * FROM {table}").fetchall() for table in known_columns()}


def test_the_rows_of_a_log_make_the_same_log_without_what_else_was_in_it(tmp_path: Path):
    path = planted(log_of(tmp_path / "a.sqlite", 3), "CREATE VIEW planted AS SELECT 1", "CREATE TABLE more (x)")
    write_log(tmp_path / "b.sqlite", decoded_lines(rows_of_file(path)), now_utc=MORNING)
    assert [file.name for file in sorted(tmp_path.iterdir())] == ["a.sqlite", "b.sqlite"]
    with closing(sqlite3.connect(path)) as one, closing(sqlite3.connect(tmp_path / "b.sqlite")) as other:
        assert everything(one) == everything(other)
        assert other.execute("SELECT name FROM sqlite_master WHERE name IN ('planted', 'more')").fetchall() == []
        assert other.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert other.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_rows_of_an_older_program_are_brought_up_to_date():
    log, head = log_of_lines([[HEAD, DEVICES, [1, "a", "b"]]], now_utc=MORNING)
    with closing(log):
        assert (head, list(applied(log))) == (HEAD, ALL)
        assert log.execute("SELECT * FROM device").fetchall() == [(1, "a", "b")]


def test_a_table_goes_on_from_block_to_block():
    blocks = [[HEAD, DEVICES], [[1, "a", ""]], [], [[2, "b", ""]]]
    log, _ = log_of_lines(blocks, now_utc=MORNING)
    with closing(log):
        assert log.execute("SELECT count(*) FROM device").fetchone() == (2,)


@pytest.mark.parametrize(
    "blocks",
    [
        [],
        [[[1]]],
        [[HEAD, [1]]],
        [[HEAD, HEAD]],
        [[HEAD, TableHead(table="nothing", columns=["a"]), [1]]],
        [[HEAD, TableHead(table="device; DROP TABLE take", columns=["device"]), [1]]],
        [[HEAD, TableHead(table="device", columns=["device", "device"]), [1, 1]]],
        [[HEAD, TableHead(table="device", columns=["other"]), [1]]],
        [[HEAD, TableHead(table="device", columns=[]), []]],
        [[HEAD, DEVICES, [1]]],
        [[HEAD, DEVICES, [1, None, "a"]]],
        [[HEAD, DEVICES, [1, "a", "a"], [1, "b", "b"]]],
        [
            [
                HEAD,
                TableHead(table="judgement", columns=["judgement", "take", "judge", "ended_utc", "outcome"]),
                [1, 9, 1, "", ""],
            ]
        ],
    ],
)
def test_what_makes_no_sense_is_an_error_and_no_log(blocks):
    with pytest.raises((ValueError, sqlite3.Error)):
        log_of_lines(blocks, now_utc=MORNING)


def test_migrations_that_are_none_of_ours_are_refused():
    with pytest.raises(LogError):
        log_of_lines([[FileHead(migrations=["of tomorrow"])]], now_utc=MORNING)
