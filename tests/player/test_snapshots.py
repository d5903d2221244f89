"""What was made from the log is kept beside it, and made again from the log where it does not fit."""

from uuid import UUID

import pytest

from game.coach.records import CoachState
from game.player import snapshots
from game.player.player_coach import FOLD as COACH
from game.player.player_coach import PlayerCoach
from game.player.player_notes import FOLD as MASTERY
from game.player.player_notes import PlayerNotes
from game.player.snapshots import read_snapshot, write_snapshot
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
    """A table at which some takes were played, and everything is worth log."""
    monkeypatch.setattr("game.player.log_fold._WORTH_KEEPING", 1)
    table = Table(tmp_path)
    for _ in range(3):
        play_through(table)
    table.context.session.log.flush()
    return table


def states(table):
    """The coach's state as the next start makes it, twice: from the log, then from the snapshot and the log."""
    log = table.context.session.log
    return PlayerCoach(log, target_bpm=lambda: 100).state, PlayerCoach(log, target_bpm=lambda: 100).state


def test_from_a_snapshot_the_coach_knows_what_it_knows_from_the_log(practised):
    first, second = states(practised)
    assert COACH.path(practised.context.session.log.path.parent).exists()
    assert first == second == practised.context.session.coach.state
    assert first.decision.reason


def test_a_snapshot_of_a_version_that_kept_another_structure_is_left_unread(tmp_path, monkeypatch):
    """Two versions of the program under way have one number: the form tells them apart."""
    path = tmp_path / "coaching.snapshot"
    with monkeypatch.context() as then:
        then.setattr("game.player.snapshots._FORM", snapshots._FORM - 1)
        then.setattr("game.player.snapshots._MADE_BY", snapshots._fingerprint())
        write_snapshot(path, "a state", player=ONE, upto=SEVENTH)
        assert read_snapshot(path, str, player=ONE) == ("a state", SEVENTH)
    assert read_snapshot(path, str, player=ONE) is None


def test_from_a_snapshot_mastery_is_what_it_is_from_the_log(practised):
    log = practised.context.session.log
    first, second = PlayerNotes(log).mastery, PlayerNotes(log).mastery
    assert MASTERY.path(log.path.parent).exists()
    assert first == second
    assert {key.written for key in first.items} == {"F4", "G4", "A4"}


def test_what_came_after_the_snapshot_is_added(practised):
    states(practised)
    assert PlayerNotes(practised.context.session.log).mastery.items
    play_through(practised)
    log = practised.context.session.log
    log.flush()
    assert PlayerCoach(log, target_bpm=lambda: 100).state == practised.context.session.coach.state
    after = PlayerNotes(log).mastery
    MASTERY.path(log.path.parent).unlink()
    assert PlayerNotes(log).mastery == after


def test_a_damaged_snapshot_is_made_again_from_the_log(practised):
    first, _ = states(practised)
    path = COACH.path(practised.context.session.log.path.parent)
    path.write_bytes(path.read_bytes()[:40])
    assert PlayerCoach(practised.context.session.log, target_bpm=lambda: 100).state == first


def test_a_snapshot_of_another_log_in_the_same_place_is_left_unread(practised):
    """A back-up was restored: its entries have the same numbers."""
    log = practised.context.session.log
    path = COACH.path(log.path.parent)
    write_snapshot(path, COACH.pack(CoachState()), player=log.player.uuid, upto=UpTo(1, "of another log"))
    assert PlayerCoach(log, target_bpm=lambda: 100).state == practised.context.session.coach.state


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


def test_of_a_long_log_the_newest_entries_serve_until_another_process_went_through_all(practised, monkeypatch):
    log = practised.context.session.log
    whole_coach, whole_mastery = PlayerCoach(log, target_bpm=lambda: 100).state, PlayerNotes(log).mastery
    for fold in (COACH, MASTERY):
        fold.path(log.path.parent).unlink()
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    coaching, mastering = PlayerCoach(log, target_bpm=lambda: 100), PlayerNotes(log)
    assert coaching.state.decision == whole_coach.decision
    assert sum(item.readings for item in mastering.mastery.items.values()) < sum(
        item.readings for item in whole_mastery.items.values()
    )
    assert not coaching.projection.complete
    assert not mastering.projection.complete
    coaching.projection.wait(60)
    mastering.projection.wait(60)
    assert coaching.state == whole_coach
    assert mastering.mastery == whole_mastery
    assert coaching.projection.complete
    assert mastering.projection.complete


def test_what_is_played_meanwhile_is_counted_once(practised, monkeypatch):
    session = practised.context.session
    for fold in (COACH, MASTERY):
        fold.path(session.log.path.parent).unlink(missing_ok=True)
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    session.coach.projection.__init__(COACH, session.log)
    session.notes.projection.__init__(MASTERY, session.log)
    half = session.notes.mastery, session.coach.state
    assert not session.notes.projection.complete
    assert not session.coach.projection.complete
    session.coach.projection.wait(60)
    session.notes.projection.wait(60)
    play_through(practised)
    session.log.flush()
    monkeypatch.undo()
    assert half != (session.notes.mastery, session.coach.state)
    assert session.notes.mastery == PlayerNotes(session.log).mastery
    assert session.coach.state == PlayerCoach(session.log, target_bpm=lambda: 100).state


def test_where_the_other_process_comes_to_nothing_the_newest_entries_serve_on(practised, monkeypatch):
    log = practised.context.session.log
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    monkeypatch.setattr("sys.executable", "no such interpreter")
    coaching = PlayerCoach(log, target_bpm=lambda: 100)
    assert coaching.state.decision == practised.context.session.coach.state.decision
    assert coaching.state.decision == practised.context.session.coach.state.decision
    assert not coaching.projection.complete
