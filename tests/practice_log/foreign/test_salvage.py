"""What can be read of a damaged log makes a log that is sound."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.database.known_tables import known_columns
from game.practice_log.foreign.filling import log_of_lines
from game.practice_log.foreign.row_lines import decoded_lines
from game.practice_log.foreign.salvage import salvaged_rows
from tests.practice_log.logged_takes import MORNING
from tests.practice_log.transfer.damaged_files import cut_off, first_page_of, flip, pages_of
from tests.practice_log.transfer.hostile_files import ENDLESS, endless_view, log_of, planted
from tests.refusing import refusal
from tests.report.month import write_month
from tests.sampling import sample

TAKES = 45


@pytest.fixture(scope="module")
def month(tmp_path_factory) -> bytes:
    path = tmp_path_factory.mktemp("month") / "log.sqlite"
    write_month(path)
    with closing(sqlite3.connect(path, isolation_level=None)) as log:
        log.execute("PRAGMA journal_mode = DELETE")
    return path.read_bytes()


def salvaged(path: Path):
    """The log that was made, and what its head says of what is gone."""
    return log_of_lines(decoded_lines(salvaged_rows(path)), now_utc=MORNING)


def salvaged_if_any(path: Path):
    """As `salvaged`; None where it was said that nothing can be read."""
    try:
        return salvaged(path)
    except LogError as refused:
        if refused.message.key != "salvage.nothing":
            raise
        return None


def test_of_a_sound_log_everything_is_there(month: bytes, tmp_path: Path):
    path = tmp_path / "a.sqlite"
    path.write_bytes(month)
    log, head = salvaged(path)
    assert (head.takes_lost, head.takes_in_part) == (0, 0)
    with closing(log), closing(sqlite3.connect(path)) as before:
        for table in set(known_columns()) - {"taken_in"}:
            rows = f"SELECT * FROM {table}"
            assert sorted(log.execute(rows), key=repr) == sorted(before.execute(rows), key=repr)


@pytest.mark.parametrize("page", sample(range(1, 56), by_default=3))
def test_whichever_page_is_flipped_what_is_left_hangs_together_or_it_is_said_that_nothing_is(
    month: bytes, tmp_path: Path, page: int
):
    path = tmp_path / "a.sqlite"
    path.write_bytes(month)
    assert page <= pages_of(path)
    found = salvaged_if_any(flip(path, page))
    if found is None:
        return
    log, head = found
    with closing(log):
        (takes,) = log.execute("SELECT count(*) FROM take").fetchone()
        (judged,) = log.execute("SELECT count(DISTINCT take) FROM judgement").fetchone()
        assert takes + head.takes_lost == TAKES
        assert takes - judged <= head.takes_in_part
        assert log.execute("PRAGMA foreign_key_check").fetchall() == []


@pytest.mark.parametrize("share", sample([0.2, 0.5, 0.8, 0.99], by_default=2))
def test_of_a_log_that_is_cut_off_whatever_is_there_is_read_or_it_is_said_that_nothing_is(
    month: bytes, tmp_path: Path, share: float
):
    path = tmp_path / "a.sqlite"
    path.write_bytes(month)
    found = salvaged_if_any(cut_off(path, int(len(month) * share)))
    if found is not None:
        with closing(found[0]) as log:
            assert log.execute("PRAGMA foreign_key_check").fetchall() == []


def test_what_was_planted_is_left_behind(tmp_path: Path):
    path = planted(log_of(tmp_path / "a.sqlite", 4), f"CREATE VIEW planted AS {ENDLESS}", "CREATE TABLE other (x)")
    log, head = salvaged(path)
    with closing(log):
        assert (log.execute("SELECT count(*) FROM take").fetchone(), head.takes_lost) == ((4,), 0)


def test_a_view_without_end_is_not_begun(tmp_path: Path):
    with refusal(LogError, "nothing of .*a.sqlite can be read"):
        next(salvaged_rows(endless_view(log_of(tmp_path / "a.sqlite", 4))))


def test_where_the_record_of_migrations_is_gone_the_tables_tell(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 4)
    log, _ = salvaged(flip(path, first_page_of(path, "migration")))
    with closing(log):
        assert log.execute("SELECT count(*) FROM entry").fetchone() == (4,)


def test_a_newer_program_is_said_and_nothing_read(tmp_path: Path):
    path = planted(log_of(tmp_path / "a.sqlite", 1), "INSERT INTO migration (name, applied_utc) VALUES ('later', '')")
    with refusal(LogError, "newer Homefret"):
        next(salvaged_rows(path))


@pytest.mark.parametrize("page", [1, None])
def test_where_the_file_does_not_tell_its_tables_those_of_a_log_of_ours_are_looked_for_in_it(
    month: bytes, tmp_path: Path, page: int | None
):
    path = tmp_path / "a.sqlite"
    path.write_bytes(month)
    with closing(sqlite3.connect(path)) as log:
        below = [] if page else log.execute("SELECT pageno FROM dbstat WHERE name = 'sqlite_schema'").fetchall()
    for number in [page] if page else [number for (number,) in below if number != 1][:1]:
        flip(path, number)
    log, head = salvaged(path)
    with closing(log):
        assert (log.execute("SELECT count(*) FROM take").fetchone(), head.takes_lost) == ((TAKES,), 0)
        assert log.execute("SELECT count(DISTINCT take) FROM judgement").fetchone() == (TAKES,)
