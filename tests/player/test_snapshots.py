"""What was made from the log is kept beside it, and made again from the log where it does not fit."""

from itertools import pairwise
from uuid import UUID

import msgspec
import pytest

from game.player import snapshots
from game.player.snapshots import (
    snapshot_path,
    snapshots_of,
    throw_away,
    write_dated_snapshot,
    write_snapshot,
)
from game.practice_log.queries.dated_cuts import DAY_US
from game.practice_log.queries.entry_order import Position
from game.practice_log.queries.log_cut import DeviceShare, LogCut

ONE, OTHER = UUID(int=1), UUID(int=2)
NAME = "coaching"


def cut(day):
    return LogCut(Position(day * DAY_US, str(OTHER), 3, 5), (DeviceShare(str(OTHER), 4, 3, 77),), (1, 9))


def kept(folder, player=ONE):
    return [
        (msgspec.msgpack.decode(found.made, type=str), found.cut) for found in snapshots_of(folder, NAME, player=player)
    ]


def test_what_was_kept_comes_back_with_the_entries_it_was_made_of(tmp_path):
    write_snapshot(tmp_path, NAME, "a state", player=ONE, cut=cut(7))
    assert kept(tmp_path) == [("a state", cut(7))]
    assert snapshot_path(tmp_path, NAME).exists()


def test_a_snapshot_of_a_version_that_kept_another_structure_is_left_unread(tmp_path, monkeypatch):
    """Two versions of the program under way have one number: the form tells them apart."""
    with monkeypatch.context() as then:
        then.setattr("game.player.snapshots._FORM", snapshots._FORM - 1)
        then.setattr("game.player.snapshots._MADE_BY", snapshots._fingerprint())
        write_snapshot(tmp_path, NAME, "a state", player=ONE, cut=cut(7))
        assert kept(tmp_path) == [("a state", cut(7))]
    assert kept(tmp_path) == []


@pytest.mark.parametrize("other", ["player", "program", "file"])
def test_a_snapshot_of_another_player_or_program_or_a_damaged_one_is_thrown_away(tmp_path, monkeypatch, other):
    write_snapshot(tmp_path, NAME, "a state", player=ONE, cut=cut(7))
    if other == "program":
        monkeypatch.setattr("game.player.snapshots._MADE_BY", "another program")
    if other == "file":
        path = snapshot_path(tmp_path, NAME)
        path.write_bytes(path.read_bytes()[:40])
    assert kept(tmp_path, OTHER if other == "player" else ONE) == []
    assert list(tmp_path.iterdir()) == []


def test_a_disk_that_refuses_changes_nothing(tmp_path):
    write_snapshot(tmp_path / "nowhere", NAME, "a state", player=ONE, cut=cut(7))
    assert kept(tmp_path / "nowhere") == []
    throw_away(tmp_path / "nowhere" / "at all")


def test_the_newest_so_far_is_kept_as_one_of_days_before_and_the_newest_comes_first(tmp_path):
    for day in (3, 5, 6):
        write_snapshot(tmp_path, NAME, f"day {day}", player=ONE, cut=cut(day))
    assert kept(tmp_path) == [("day 6", cut(6)), ("day 5", cut(5)), ("day 3", cut(3))]
    write_dated_snapshot(tmp_path, NAME, "day 4", player=ONE, cut=cut(4))
    assert [state for state, _ in kept(tmp_path)] == ["day 6", "day 5", "day 4", "day 3"]


def test_after_years_of_daily_practice_few_are_kept_and_of_every_age_one(tmp_path):
    for day in range(1, 201):
        write_snapshot(tmp_path, NAME, f"day {day}", player=ONE, cut=cut(day))
    ages = [200 - found.position.moment_us // DAY_US for _, found in kept(tmp_path)]
    assert ages[0] == 0
    bounds = (1, 3, 7, 14, 30, 90, 200)
    assert [sum(low <= age < high for age in ages) for low, high in pairwise(bounds)] == [1] * 6
    assert len(ages) == 7
