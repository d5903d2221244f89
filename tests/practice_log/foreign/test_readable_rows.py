"""Rows of a damaged file are read around the places that cannot be."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.practice_log.foreign.readable_rows import Gap, TableRows
from tests.practice_log.transfer.damaged_files import flip, pages_of

PER_ROW = 200
ROWS = 400


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A table of four hundred rows, some twenty on a page."""
    with closing(sqlite3.connect(tmp_path / "a.sqlite", isolation_level=None)) as log:
        log.execute("BEGIN")
        log.execute("CREATE TABLE help (help INTEGER PRIMARY KEY, text TEXT)")
        log.executemany("INSERT INTO help VALUES (?, ?)", [(number, "x" * PER_ROW) for number in range(1, ROWS + 1)])
        log.execute("COMMIT")
    return tmp_path / "a.sqlite"


def read(path: Path):
    """The numbers that can be read, and the gaps."""
    asked = TableRows("help", ["help", "text"], ["help"])
    with closing(sqlite3.connect(path)) as log:
        return [number for number, _ in asked.rows(log)], asked.gaps


def test_of_a_sound_table_every_row_is_read(file: Path):
    assert read(file) == (list(range(1, ROWS + 1)), [])


def test_of_a_page_in_the_middle_only_its_own_rows_are_lost(file: Path):
    numbers, (gap,) = read(flip(file, 10))
    lost = sorted(set(range(1, ROWS + 1)) - set(numbers))
    assert gap == Gap((lost[0] - 1,), lost[-1] + 1)
    assert lost == list(range(lost[0], lost[-1] + 1))
    assert 10 < len(lost) < 40


def test_the_first_and_the_last_page_are_gaps_without_an_end(file: Path):
    last = pages_of(file)
    numbers, gaps = read(flip(flip(file, 3), last))
    assert gaps[0].after == ()
    assert gaps[0].before == numbers[0]
    assert gaps[-1] == Gap((numbers[-1],), None)


def test_several_pages_are_several_gaps(file: Path):
    numbers, gaps = read(flip(flip(file, 8), 14))
    assert len(gaps) == 2
    assert numbers == sorted(set(numbers))
    assert len(numbers) > ROWS - 80


def test_of_a_table_whose_first_page_is_gone_nothing_is_read(file: Path):
    assert read(flip(file, 2)) == ([], [Gap((), None)])


def test_children_are_read_up_to_the_gap_and_from_the_next_parent_on(tmp_path: Path):
    with closing(sqlite3.connect(tmp_path / "a.sqlite", isolation_level=None)) as log:
        log.execute("BEGIN")
        log.execute("CREATE TABLE played (take, i, text, PRIMARY KEY (take, i)) WITHOUT ROWID")
        rows = [(take, i, "x" * PER_ROW) for take in range(1, 41) for i in range(1, 11)]
        log.executemany("INSERT INTO played VALUES (?, ?, ?)", rows)
        log.execute("COMMIT")
    flip(tmp_path / "a.sqlite", 10)
    asked = TableRows("played", ["take", "i", "text"], ["take", "i"])
    with closing(sqlite3.connect(tmp_path / "a.sqlite")) as log:
        read_rows = [row[:2] for row in asked.rows(log)]
    (gap,) = asked.gaps
    assert gap.before is not None
    assert [key for key in read_rows if key <= gap.after] == [row[:2] for row in rows if row[:2] <= gap.after]
    assert min(key for key in read_rows if key > gap.after)[0] == gap.before > gap.after[0]


def test_a_key_that_is_no_number_ends_the_reading_there(tmp_path: Path):
    with closing(sqlite3.connect(tmp_path / "a.sqlite", isolation_level=None)) as log:
        log.execute("CREATE TABLE played (take, i, PRIMARY KEY (take, i)) WITHOUT ROWID")
        log.executemany("INSERT INTO played VALUES (?, ?)", [(1, 1), (1, "x"), (2, 1)])
        asked = TableRows("played", ["take", "i"], ["take", "i"])
        assert list(asked.rows(log)) == [(1, 1), (2, 1)]
