"""What was made from the log is kept beside it, and made again from the log where it does not fit."""

from uuid import UUID

import pytest

from game.coach.records import CoachState
from game.coaching import SNAPSHOT_FILE, Coaching
from game.snapshots import keep_snapshot, kept_snapshot
from tests.screens.table import Table

ONE, OTHER = UUID(int=1), UUID(int=2)


@pytest.fixture
def practised(tmp_path, monkeypatch):
    """A table at which some takes were played, and everything is worth keeping."""
    monkeypatch.setattr("game.coaching._WORTH_KEEPING", 1)
    table = Table(tmp_path).with_coach()
    for _ in range(3):
        table.open("F4 h, G4 h", "A4 w")
        for note in table.screen.take.expected:
            table.play(note.sounding)
        table.wait(1.5)
    table.around.keeping.log.flush()
    return table


def states(table):
    """The coach's state as the next start makes it, twice: from the log, then from the snapshot and the log."""
    keeping = table.around.keeping
    return Coaching(keeping, target_bpm=100).state, Coaching(keeping, target_bpm=100).state


def test_from_a_snapshot_the_coach_knows_what_it_knows_from_the_log(practised):
    first, second = states(practised)
    assert (practised.around.keeping.path.parent / SNAPSHOT_FILE).exists()
    assert first == second == practised.around.coaching.state


def test_what_came_after_the_snapshot_is_added(practised):
    states(practised)
    practised.open("F4 h, G4 h", "A4 w")
    practised.around.keeping.log.flush()
    assert Coaching(practised.around.keeping, target_bpm=100).state == practised.around.coaching.state


def test_a_damaged_snapshot_is_made_again_from_the_log(practised):
    first, _ = states(practised)
    path = practised.around.keeping.path.parent / SNAPSHOT_FILE
    path.write_bytes(path.read_bytes()[:40])
    assert Coaching(practised.around.keeping, target_bpm=100).state == first


def test_a_snapshot_of_another_player_or_program_is_left_unread(tmp_path, monkeypatch):
    path = tmp_path / "coach.snapshot"
    keep_snapshot(path, CoachState(), player=ONE, upto=7)
    assert kept_snapshot(path, CoachState, player=ONE) == (CoachState(), 7)
    assert kept_snapshot(path, CoachState, player=OTHER) is None
    monkeypatch.setattr("game.snapshots._MADE_BY", "another program")
    assert kept_snapshot(path, CoachState, player=ONE) is None


def test_a_disk_that_refuses_changes_nothing(tmp_path):
    keep_snapshot(tmp_path / "nowhere" / "coach.snapshot", CoachState(), player=ONE, upto=7)
    assert kept_snapshot(tmp_path / "nowhere" / "coach.snapshot", CoachState, player=ONE) is None
