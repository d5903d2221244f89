"""One log of ours into another."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.practice_log.back_ups.backup import checked_take_count
from game.practice_log.documents.merging import add_log
from tests.practice_log.logged_takes import MORNING
from tests.practice_log.transfer.hostile_files import log_of


@pytest.mark.parametrize(
    ("there", "brought", "takes"),
    [((0, 3), (0, 5), 5), ((0, 5), (0, 3), 5), ((0, 3), (7, 4), 7), ((0, 0), (0, 2), 2), ((0, 2), (0, 0), 2)],
)
def test_what_a_log_lacks_is_added_once(tmp_path: Path, there, brought, takes: int):
    target = log_of(tmp_path / "a.sqlite", there[1], from_minute=there[0])
    source = log_of(tmp_path / "b.sqlite", brought[1], from_minute=brought[0])
    for _ in range(2):
        add_log(target, source, now_utc=MORNING)
        assert checked_take_count(target) == takes
    assert {file.name for file in tmp_path.iterdir()} == {"a.sqlite", "b.sqlite"}
    with closing(sqlite3.connect(target)) as log:
        times = log.execute("SELECT started_utc FROM take").fetchall()
    assert len(set(times)) == takes
