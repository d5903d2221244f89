"""What is known of the newest entries serves until all of the log was gone through."""

from game.coach.events import Wish
from game.player.player_coach import FOLD as COACH
from game.player.player_coach import PlayerCoach
from game.player.player_notes import FOLD as MASTERY
from game.player.player_notes import PlayerNotes
from tests.made import passage


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
    practised.open("F4 h, G4 h", "A4 w")
    practised.play_through()
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


def test_what_begins_again_is_made_of_the_log_as_it_is_now(practised):
    session = practised.context.session
    before = session.coach.state
    other = PlayerCoach(session.log, target_bpm=lambda: 100)
    other.overrule(passage("F4 w", "G4 w"), Wish.SLOWER)
    assert session.log.flush()
    assert session.coach.state == before
    session.coach.projection.begin_again()
    assert session.coach.state == other.state != before


def test_while_a_process_goes_through_the_log_nothing_begins_a_second_one_beside_it(practised, monkeypatch):
    """It may have begun before more came: then another comes after it."""
    begun = []
    monkeypatch.setattr("game.player.log_projection.ProjectionRebuild", lambda *_: begun.append(Process()) or begun[-1])
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    log = practised.context.session.log
    COACH.path(log.path.parent).unlink(missing_ok=True)
    coaching = PlayerCoach(log, target_bpm=lambda: 100)
    for _ in range(2):
        assert not coaching.projection.complete
        coaching.projection.begin_again()
    assert len(begun) == 1
    begun[0].over = True
    assert not coaching.projection.complete
    assert len(begun) == 2
    begun[1].over = True
    assert not coaching.projection.complete
    assert len(begun) == 2


class Process:
    """Goes through the log, and comes to nothing."""

    over = False
