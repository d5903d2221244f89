"""A copy of the whole log in one file, and back."""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.database.store import APPLICATION_ID, open_store
from game.practice_log.rows.take_rows import put_take
from game.practice_log.transfer.backup import back_up, checked_take_count, restore
from tests.practice_log.logged_takes import DEVICE, MORNING, begun
from tests.refusing import refusal

NOW = datetime(2026, 12, 1, 18, tzinfo=UTC)


def written(path: Path, takes: int) -> Path:
    log = open_store(path, now_utc=MORNING)
    for minutes in range(takes):
        put_take(log, begun(minutes=minutes), DEVICE)
    log.close()
    return path


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return written(tmp_path / "practice.sqlite", 3)


def test_a_copy_is_one_file_and_holds_what_is_still_in_the_journal_of_a_log_that_is_open(log: Path, tmp_path: Path):
    playing = open_store(log, now_utc=MORNING)
    put_take(playing, begun(minutes=9), DEVICE)
    (tmp_path / "copies").mkdir()
    copy = tmp_path / "copies" / "copy.sqlite"
    assert back_up(log, copy) == 4
    assert [file.name for file in copy.parent.iterdir()] == ["copy.sqlite"]
    assert checked_take_count(copy) == 4
    playing.close()


def test_a_file_that_is_there_is_never_written_over(log: Path, tmp_path: Path):
    (tmp_path / "copy.sqlite").write_bytes(b"mine")
    with refusal(LogError, r"copy\.sqlite"):
        back_up(log, tmp_path / "copy.sqlite")
    assert (tmp_path / "copy.sqlite").read_bytes() == b"mine"


def test_without_a_log_or_a_folder_to_write_to_nothing_is_left_behind(log: Path, tmp_path: Path):
    with refusal(LogError, "there is no practice log"):
        back_up(tmp_path / "none.sqlite", tmp_path / "copy.sqlite")
    with refusal(LogError, r"copy\.sqlite"):
        back_up(log, tmp_path / "gone" / "copy.sqlite")
    assert not (tmp_path / "copy.sqlite").exists()


def test_a_copy_comes_back_in_the_place_of_the_log_and_that_is_kept_beside_it(log: Path, tmp_path: Path):
    back_up(log, tmp_path / "copy.sqlite")
    put_take(open_store(log, now_utc=MORNING), begun(minutes=9), DEVICE)
    takes, kept = restore(tmp_path / "copy.sqlite", log, now_utc=NOW)
    assert (takes, kept) == (3, log.with_name("practice-before-20261201T180000000000.sqlite"))
    assert (checked_take_count(log), checked_take_count(kept)) == (3, 4)


def test_where_there_was_no_log_none_is_kept(log: Path, tmp_path: Path):
    assert restore(log, tmp_path / "new" / "practice.sqlite", now_utc=NOW) == (3, None)
    assert checked_take_count(tmp_path / "new" / "practice.sqlite") == 3


def test_a_log_that_is_damaged_is_moved_away_as_it_is_and_replaced(log: Path, tmp_path: Path):
    back_up(log, tmp_path / "copy.sqlite")
    log.write_bytes(b"nonsense" * 1000)
    takes, kept = restore(tmp_path / "copy.sqlite", log, now_utc=NOW)
    assert (takes, checked_take_count(log)) == (3, 3)
    assert kept.read_bytes() == b"nonsense" * 1000


def test_a_log_is_not_its_own_copy(log: Path):
    with refusal(LogError, r"practice\.sqlite"):
        restore(log, log, now_utc=NOW)


def of_another_program(path: Path) -> None:
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE take (take)")


def of_a_newer_program(path: Path) -> None:
    written(path, 1)
    with sqlite3.connect(path) as newer:
        newer.execute("INSERT INTO migration (name, applied_utc) VALUES ('of tomorrow', '')")


def of_a_broken_disk(path: Path) -> None:
    """A log whose pages do not hang together any more, marked as ours."""
    written(path, 40)
    content = bytearray(path.read_bytes())
    content[4096 * 3 : 4096 * 9] = b"\xa5" * (4096 * 6)
    path.write_bytes(content)
    assert content[68:72] == APPLICATION_ID.to_bytes(4, "big")


@pytest.mark.parametrize(
    ("made", "sentence"),
    [
        (lambda path: path.write_text("strings, a capo"), "no practice log"),
        (of_another_program, "is no practice log"),
        (of_a_newer_program, "newer"),
        (of_a_broken_disk, "damaged"),
        (Path.exists, "there is no file"),
    ],
    ids=["text", "another program's", "a newer program's", "broken", "none"],
)
def test_what_is_no_sound_log_of_ours_takes_no_logs_place(log: Path, tmp_path: Path, made, sentence: str):
    made(tmp_path / "other.sqlite")
    before = log.read_bytes()
    with refusal(LogError, sentence):
        restore(tmp_path / "other.sqlite", log, now_utc=NOW)
    assert log.read_bytes() == before
    assert not list(tmp_path.glob("*before*"))
