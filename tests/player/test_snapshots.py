"""What was made from the log is kept beside it, and made again from the log where it does not fit."""

from uuid import UUID

from game.player import snapshots
from game.player.snapshots import read_snapshot, write_snapshot
from game.practice_log.queries.log_position import LogPosition

ONE, OTHER = UUID(int=1), UUID(int=2)


SEVENTH = LogPosition(7, "2026-11-25T07:30:00.000000Z")


def test_a_snapshot_of_a_version_that_kept_another_structure_is_left_unread(tmp_path, monkeypatch):
    """Two versions of the program under way have one number: the form tells them apart."""
    path = tmp_path / "coaching.snapshot"
    with monkeypatch.context() as then:
        then.setattr("game.player.snapshots._FORM", snapshots._FORM - 1)
        then.setattr("game.player.snapshots._MADE_BY", snapshots._fingerprint())
        write_snapshot(path, "a state", player=ONE, upto=SEVENTH)
        assert read_snapshot(path, str, player=ONE) == ("a state", SEVENTH)
    assert read_snapshot(path, str, player=ONE) is None


def test_a_snapshot_of_another_player_or_program_is_left_unread(tmp_path, monkeypatch):
    path = tmp_path / "coaching.snapshot"
    write_snapshot(path, "a state", player=ONE, upto=SEVENTH)
    assert read_snapshot(path, str, player=ONE) == ("a state", SEVENTH)
    assert read_snapshot(path, str, player=OTHER) is None
    monkeypatch.setattr("game.player.snapshots._MADE_BY", "another program")
    assert read_snapshot(path, str, player=ONE) is None


def test_a_disk_that_refuses_changes_nothing(tmp_path):
    write_snapshot(tmp_path / "nowhere" / "coaching.snapshot", "a state", player=ONE, upto=SEVENTH)
    assert read_snapshot(tmp_path / "nowhere" / "coaching.snapshot", str, player=ONE) is None
