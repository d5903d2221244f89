"""A copy of the whole log in one file."""

import stat
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.back_ups.backup import back_up, checked_take_count
from game.practice_log.database.store import open_store
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, begun
from tests.practice_log.transfer.hostile_files import log_of
from tests.refusing import refusal


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return log_of(tmp_path / "practice.sqlite", 3)


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


def test_a_copy_is_for_its_owner_alone(log: Path, tmp_path: Path):
    back_up(log, tmp_path / "copy.sqlite")
    assert stat.S_IMODE((tmp_path / "copy.sqlite").stat().st_mode) == 0o600


def test_a_link_to_a_back_up_that_is_gone_is_told_as_that(tmp_path: Path):
    (tmp_path / "link.sqlite").symlink_to(tmp_path / "gone.sqlite")
    with refusal(LogError, "link.sqlite is a link, and what it leads to is gone: name the file itself"):
        checked_take_count(tmp_path / "link.sqlite")
