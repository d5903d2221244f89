"""Rows whose page is gone come back from the indexes that repeat them."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.practice_log.database.known_tables import empty_log
from game.practice_log.foreign.foreign_log import damaged_log
from game.practice_log.foreign.indexed_rows import add_indexed_rows
from tests.practice_log.transfer.damaged_files import first_page_of, flip
from tests.practice_log.transfer.hostile_files import log_of


def rows_of(path: Path, table: str):
    with closing(sqlite3.connect(path)) as log:
        return log.execute(f"SELECT * FROM {table}").fetchall()


def come_back(path: Path, table: str):
    with damaged_log(path) as file, closing(empty_log(without_rules=True)) as staged:
        add_indexed_rows(file, staged, table)
        return staged.execute(f"SELECT * FROM {table}").fetchall()


@pytest.mark.parametrize("table", ["bars", "neck_map", "instrument", "entry"])
def test_rows_that_an_index_repeats_come_back_whole(tmp_path: Path, table: str):
    path = log_of(tmp_path / "a.sqlite", 3)
    before = rows_of(path, table)
    assert come_back(flip(path, first_page_of(path, table)), table) == before


@pytest.mark.parametrize("table", ["device", "player"])
def test_devices_and_players_come_back_without_their_name(tmp_path: Path, table: str):
    path = log_of(tmp_path / "a.sqlite", 3)
    ((number, uuid, _),) = rows_of(path, table)
    assert come_back(flip(path, first_page_of(path, table)), table) == [(number, uuid, "")]


def test_what_no_index_repeats_whole_does_not_come_back(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 3)
    assert come_back(flip(path, first_page_of(path, "take")), "take") == []


def test_an_index_that_is_damaged_too_tells_nothing(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 3)
    pages = [first_page_of(path, name) for name in ("bars", "sqlite_autoindex_bars_1")]
    for page in pages:
        flip(path, page)
    assert come_back(path, "bars") == []
