"""What was made from the log is kept beside it, and made again from the log where it does not fit."""

from uuid import UUID

import pytest

from game.coach.records import CoachState
from game.player import snapshots
from game.player.player_coach import FOLD as COACH
from game.player.player_coach import PlayerCoach
from game.player.player_notes import FOLD as MASTERY
from game.player.player_notes import PlayerNotes
from game.player.snapshots import keep_snapshot, kept_snapshot
from game.practice_log.queries.newest import UpTo
from tests.screens.table import Table

ONE, OTHER = UUID(int=1), UUID(int=2)
SEVENTH = UpTo(7, "2026-11-25T07:30:00.000000Z")


def play_through(table):
    table.open("F4 h, G4 h", "A4 w")
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.5)


@pytest.fixture
def practised(tmp_path, monkeypatch):
    """A table at which some takes were played, and everything is worth keeping."""
    monkeypatch.setattr("game.player.log_fold._WORTH_KEEPING", 1)
    table = Table(tmp_path).with_coach()
    for _ in range(3):
        play_through(table)
    table.around.keeping.log.flush()
    return table


def states(table):
    """The coach's state as the next start makes it, twice: from the log, then from the snapshot and the log."""
    keeping = table.around.keeping
    return PlayerCoach(keeping, target_bpm=100).state, PlayerCoach(keeping, target_bpm=100).state


def test_from_a_snapshot_the_coach_knows_what_it_knows_from_the_log(practised):
    first, second = states(practised)
    assert COACH.path(practised.around.keeping.path.parent).exists()
    assert first == second == practised.around.coaching.state
    assert first.decision.reason


def test_a_snapshot_of_a_version_that_kept_another_structure_is_left_unread(tmp_path, monkeypatch):
    """Two versions of the program under way have one number: the form tells them apart."""
    path = tmp_path / "coaching.snapshot"
    with monkeypatch.context() as then:
        then.setattr("game.player.snapshots._FORM", snapshots._FORM - 1)
        then.setattr("game.player.snapshots._MADE_BY", snapshots._fingerprint())
        keep_snapshot(path, "a state", player=ONE, upto=SEVENTH)
        assert kept_snapshot(path, str, player=ONE) == ("a state", SEVENTH)
    assert kept_snapshot(path, str, player=ONE) is None


def test_from_a_snapshot_mastery_is_what_it_is_from_the_log(practised):
    keeping = practised.around.keeping
    first, second = PlayerNotes(keeping).mastery, PlayerNotes(keeping).mastery
    assert MASTERY.path(keeping.path.parent).exists()
    assert first == second
    assert {key.written for key in first.items} == {"F4", "G4", "A4"}


def test_what_came_after_the_snapshot_is_added(practised):
    states(practised)
    assert PlayerNotes(practised.around.keeping).mastery.items
    play_through(practised)
    keeping = practised.around.keeping
    keeping.log.flush()
    assert PlayerCoach(keeping, target_bpm=100).state == practised.around.coaching.state
    after = PlayerNotes(keeping).mastery
    MASTERY.path(keeping.path.parent).unlink()
    assert PlayerNotes(keeping).mastery == after


def test_a_damaged_snapshot_is_made_again_from_the_log(practised):
    first, _ = states(practised)
    path = COACH.path(practised.around.keeping.path.parent)
    path.write_bytes(path.read_bytes()[:40])
    assert PlayerCoach(practised.around.keeping, target_bpm=100).state == first


def test_a_snapshot_of_another_log_in_the_same_place_is_left_unread(practised):
    """A back-up was restored: its entries have the same numbers."""
    keeping = practised.around.keeping
    path = COACH.path(keeping.path.parent)
    keep_snapshot(path, COACH.packed(CoachState()), player=keeping.player.uuid, upto=UpTo(1, "of another log"))
    assert PlayerCoach(keeping, target_bpm=100).state == practised.around.coaching.state


def test_a_snapshot_of_another_player_or_program_is_left_unread(tmp_path, monkeypatch):
    path = tmp_path / "coaching.snapshot"
    keep_snapshot(path, "a state", player=ONE, upto=SEVENTH)
    assert kept_snapshot(path, str, player=ONE) == ("a state", SEVENTH)
    assert kept_snapshot(path, str, player=OTHER) is None
    monkeypatch.setattr("game.player.snapshots._MADE_BY", "another program")
    assert kept_snapshot(path, str, player=ONE) is None


def test_a_disk_that_refuses_changes_nothing(tmp_path):
    keep_snapshot(tmp_path / "nowhere" / "coaching.snapshot", "a state", player=ONE, upto=SEVENTH)
    assert kept_snapshot(tmp_path / "nowhere" / "coaching.snapshot", str, player=ONE) is None


def test_of_a_long_log_the_newest_entries_serve_until_another_process_went_through_all(practised, monkeypatch):
    keeping = practised.around.keeping
    whole_coach, whole_mastery = PlayerCoach(keeping, target_bpm=100).state, PlayerNotes(keeping).mastery
    for fold in (COACH, MASTERY):
        fold.path(keeping.path.parent).unlink()
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    coaching, mastering = PlayerCoach(keeping, target_bpm=100), PlayerNotes(keeping)
    assert coaching.state.decision == whole_coach.decision
    assert sum(item.readings for item in mastering.mastery.items.values()) < sum(
        item.readings for item in whole_mastery.items.values()
    )
    assert not coaching.known.whole
    assert not mastering.known.whole
    coaching.known.wait(60)
    mastering.known.wait(60)
    assert coaching.state == whole_coach
    assert mastering.mastery == whole_mastery
    assert coaching.known.whole
    assert mastering.known.whole


def test_what_is_played_meanwhile_is_counted_once(practised, monkeypatch):
    around = practised.around
    for fold in (COACH, MASTERY):
        fold.path(around.keeping.path.parent).unlink(missing_ok=True)
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    around.coaching.known.__init__(COACH, around.keeping)
    around.mastering.known.__init__(MASTERY, around.keeping)
    half = around.mastering.mastery, around.coaching.state
    assert not around.mastering.known.whole
    assert not around.coaching.known.whole
    around.coaching.known.wait(60)
    around.mastering.known.wait(60)
    play_through(practised)
    around.keeping.log.flush()
    monkeypatch.undo()
    assert half != (around.mastering.mastery, around.coaching.state)
    assert around.mastering.mastery == PlayerNotes(around.keeping).mastery
    assert around.coaching.state == PlayerCoach(around.keeping, target_bpm=100).state


def test_where_the_other_process_comes_to_nothing_the_newest_entries_serve_on(practised, monkeypatch):
    keeping = practised.around.keeping
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    monkeypatch.setattr("sys.executable", "no such interpreter")
    coaching = PlayerCoach(keeping, target_bpm=100)
    assert coaching.state.decision == practised.around.coaching.state.decision
    assert coaching.state.decision == practised.around.coaching.state.decision
    assert not coaching.known.whole
