"""Another process makes the back-up of the day."""

from datetime import date
from pathlib import Path

from game.player import back_up_process
from game.player.back_up_process import begin_back_up
from game.practice_log.back_ups.automatic import automatic_back_ups
from tests.practice_log.transfer.hostile_files import log_of

TODAY = date(2026, 12, 1)
ENOUGH_S = 120.0


def test_the_back_up_is_made_once_a_day_and_only_where_there_is_a_log(tmp_path: Path):
    assert not begin_back_up(tmp_path / "practice.sqlite", TODAY)
    log = log_of(tmp_path / "practice.sqlite", 2)
    assert begin_back_up(log, TODAY)
    assert not begin_back_up(log, TODAY)
    (making,) = back_up_process._BEGUN
    making.wait(ENOUGH_S)
    assert [one.takes for one in automatic_back_ups(log)] == [2]
    assert not begin_back_up(log, TODAY)
