"""What is made of the log is the same, whether all of it is gone through or what came after a snapshot."""

from game.coach.records import CoachState
from game.player.player_coach import FOLD as COACH
from game.player.player_coach import PlayerCoach
from game.player.player_notes import FOLD as MASTERY
from game.player.player_notes import PlayerNotes
from game.player.snapshots import write_snapshot
from game.practice_log.queries.log_cut import newest_cut


def states(table):
    """The coach's state as the next start makes it, twice: from the log, then from the snapshot and the log."""
    log = table.context.session.log
    return PlayerCoach(log, target_bpm=lambda: 100).state, PlayerCoach(log, target_bpm=lambda: 100).state


def test_from_a_snapshot_the_coach_knows_what_it_knows_from_the_log(practised):
    first, second = states(practised)
    assert COACH.path(practised.context.session.log.path.parent).exists()
    assert first == second == practised.context.session.coach.state
    assert first.decision.reason


def test_from_a_snapshot_mastery_is_what_it_is_from_the_log(practised):
    log = practised.context.session.log
    first, second = PlayerNotes(log).mastery, PlayerNotes(log).mastery
    assert MASTERY.path(log.path.parent).exists()
    assert first == second
    assert {key.written for key in first.items} == {"F4", "G4", "A4"}


def test_what_came_after_the_snapshot_is_added(practised):
    states(practised)
    assert PlayerNotes(practised.context.session.log).mastery.items
    practised.open("F4 h, G4 h", "A4 w")
    practised.play_through()
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
    """A back-up was restored: its entries have the same numbers, and stand elsewhere."""
    log = practised.context.session.log
    folder, player = log.path.parent, log.player.uuid
    with log.reading() as connection:
        cut = newest_cut(connection, player)
    moved = cut._replace(shares=tuple(share._replace(moments=share.moments + 1) for share in cut.shares))
    write_snapshot(folder, COACH.name, COACH.pack(CoachState()), player=player, cut=moved)
    assert PlayerCoach(log, target_bpm=lambda: 100).state == practised.context.session.coach.state
