"""How many takes a log holds at least is known without its journal."""

import stat
from contextlib import closing
from pathlib import Path

import pytest

from game.practice_log.database.store import open_store
from game.practice_log.database.take_mark import forget_take_count, keep_take_count, takes_at_least
from tests.practice_log.logged_takes import MORNING
from tests.practice_log.transfer.hostile_files import log_of


@pytest.fixture
def log(tmp_path: Path) -> Path:
    path = log_of(tmp_path / "practice.sqlite", 3)
    with closing(open_store(path, now_utc=MORNING)) as connection:
        keep_take_count(path, connection)
    return path


def test_it_is_kept_in_a_file_for_its_owner_alone(log: Path):
    assert takes_at_least(log) == 3
    assert stat.S_IMODE(log.with_name("practice.sqlite.takes").stat().st_mode) == 0o600
    assert not list(log.parent.glob("*.unfinished"))


def test_it_can_be_forgotten_more_than_once(log: Path):
    forget_take_count(log)
    forget_take_count(log)
    assert takes_at_least(log) == 0


@pytest.mark.parametrize("content", ["", "nonsense", "[3]", "9" * 2000, "[" * 900])
def test_a_file_that_makes_no_sense_tells_nothing(log: Path, content: str):
    log.with_name("practice.sqlite.takes").write_text(content, encoding="ascii")
    assert takes_at_least(log) == 0
