"""The pages that tell which tables a file has are put back."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.practice_log.foreign.schema_pages import put_own_schema
from tests.practice_log.transfer.damaged_files import PAGE, flip
from tests.practice_log.transfer.hostile_files import log_of


def dumped(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as log:
        return list(log.iterdump())


@pytest.mark.parametrize("takes", [0, 3, 200])
def test_over_a_sound_log_of_ours_they_change_nothing(tmp_path: Path, takes: int):
    path = log_of(tmp_path / "a.sqlite", takes)
    shutil.copyfile(path, tmp_path / "b.sqlite")
    put_own_schema(tmp_path / "b.sqlite")
    assert dumped(tmp_path / "b.sqlite") == dumped(path)
    with closing(sqlite3.connect(tmp_path / "b.sqlite")) as log:
        assert log.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_where_they_are_damaged_the_log_is_there_again(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 3)
    before = dumped(path)
    put_own_schema(flip(path, 1))
    assert dumped(path) == before
    assert path.stat().st_size % PAGE == 0
