"""A player sits down with settings, log, coach, notes and plan."""

import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime, timedelta

import msgspec
import pytest

from game.clock import HandClock
from game.player.gatherer import REST_S, Gatherer
from game.player.profiles import LOG_FILE, first_player
from game.player.session import ShelfView, open_session
from game.player.settings import Look, Settings
from game.player.settings_file import load, save
from game.text.catalogue import tell
from tests.player.seated import play_a_take, played_take, takes_in

THEN = datetime(2026, 11, 24, 7, 30, tzinfo=UTC)


@pytest.fixture
def session():
    session = open_session(first_player(), HandClock(100.0), now=lambda: THEN)
    yield session
    session.close()


def test_the_settings_that_were_kept_hold_unless_others_are_given():
    save(Settings(look=Look.NIGHT), first_player().settings_path)
    assert open_session(first_player(), HandClock()).settings.look is Look.NIGHT
    assert open_session(first_player(), HandClock(), settings=Settings()).settings.look is Look.PAPER


def test_sitting_down_opens_no_log_and_writes_no_file(own_home):
    """The first frame does without: the log is opened when it is first asked for."""
    session = open_session(first_player(), HandClock())
    assert (session.name, session.shelf_view, session.last_opened) == ("", ShelfView(), None)
    assert session.close() is None
    assert [path for path in own_home.rglob("*") if path.is_file()] == []


def test_coach_notes_and_plan_know_one_log(session):
    assert session.coach is session.coach
    assert session.coach.folder == session.folder == session.log.path.parent
    assert session.plan.situation().day == session.notes.day == date(2026, 11, 24).toordinal()


def test_a_take_that_is_over_is_heard_by_notes_and_coach(session):
    assert session.notes.mastery.items == {}
    decision = play_a_take(session)
    assert decision.reason
    assert {key.written for key in session.notes.mastery.items} == {"F4", "G4"}
    assert session.coach.state.decision == decision
    assert session.log.flush()
    assert takes_in(first_player()) == 1


def test_practice_that_begins_holds_the_log_and_judges_what_was_cut_short(session):
    """As after a kill: a take lies in the log that has no end."""
    played_take(session, notes=1)
    session.close()
    later = open_session(first_player(), HandClock())
    later.begin_practice()
    with later.log.reading() as connection:
        assert connection.execute("SELECT count(*) FROM judgement").fetchone() == (1,)
    assert later.close() is None


def test_a_log_that_is_none_is_said_and_what_is_played_stays_in_memory(session):
    (session.folder / LOG_FILE).write_text("this is no practice log", encoding="utf-8")
    assert play_a_take(session).reason
    session.log.flush()
    assert session.log.trouble
    assert session.notes.mastery.items == {}


def test_changed_settings_are_kept_and_one_that_cannot_be_kept_holds_all_the_same(session, monkeypatch):
    session.change_settings(msgspec.structs.replace(session.settings, look=Look.NIGHT))
    assert load(first_player().settings_path).settings.look is Look.NIGHT
    monkeypatch.setattr("game.player.session.save", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left")))
    with pytest.raises(OSError, match="No space left"):
        session.change_settings(msgspec.structs.replace(session.settings, look=Look.PAPER))
    assert session.settings.look is Look.PAPER


class Wall:
    """A clock on the wall that goes with the seconds, and can be set."""

    def __init__(self):
        self.seconds, self.set_by = HandClock(100.0), timedelta()

    def now(self):
        return THEN + self.set_by + timedelta(seconds=self.seconds.now_s())


@pytest.fixture
def wall():
    return Wall()


@pytest.fixture
def watched(wall):
    """A session by a clock on the wall that a test can set."""
    session = open_session(first_player(), wall.seconds, now=wall.now)
    session.begin_practice()
    yield session
    session.close()


def clocks_put_right(session):
    assert session.log.flush()
    with session.log.reading() as log:
        return log.execute("SELECT count(*) FROM fact WHERE about = 'clock'").fetchone()[0]


def test_a_clock_a_year_ahead_that_is_set_right_while_the_game_runs_does_no_more_harm(watched, wall):
    """After the take in which it was set, what was played by it is of today, for coach and notes as well."""
    wall.set_by = timedelta(days=365)
    play_a_take(watched)
    ahead = watched.coach.state
    assert {record.day for record in ahead.records.values()} == {watched.today().toordinal()}
    wall.set_by = timedelta()
    play_a_take(watched)
    assert clocks_put_right(watched) == 1
    assert {record.day for record in watched.coach.state.records.values()} == {THEN.toordinal()}
    (record,) = watched.coach.state.records.values()
    assert record.takes_today == 2


def test_at_the_start_a_clock_that_was_ahead_is_noticed_before_anything_is_played(watched, wall):
    wall.set_by = timedelta(days=40)
    play_a_take(watched)
    watched.close()
    wall.set_by = timedelta()
    later = open_session(first_player(), wall.seconds, now=wall.now)
    later.begin_practice()
    assert clocks_put_right(later) == 1
    (record,) = later.coach.state.records.values()
    assert record.day == THEN.toordinal()
    later.close()


def test_a_clock_that_only_goes_says_nothing_and_lets_what_is_known_be(watched, wall):
    before, known = play_a_take(watched), watched.coach.state
    wall.seconds.advance(3600)
    decision = play_a_take(watched)
    assert clocks_put_right(watched) == 0
    assert (known.decision, watched.coach.state.decision) == (before, decision)


def test_a_first_start_writes_nothing_of_the_clock(watched):
    with watched.log.reading() as log:
        assert log.execute("SELECT (SELECT count(*) FROM entry), (SELECT count(*) FROM player)").fetchone() == (0, 0)


def test_what_came_in_from_elsewhere_is_known_when_it_begins_again(session):
    """Another program writes into the same log: the coach, the notes and the facts hear of it."""
    play_a_take(session)
    known = session.coach.state
    assert session.log.flush()
    other = open_session(first_player(), session.clock, now=lambda: THEN + timedelta(minutes=9))
    play_a_take(other)
    other.log.facts.open_tune("ode-to-joy")
    other.change_settings(msgspec.structs.replace(other.settings, look=Look.NIGHT))
    other.close()
    assert (session.coach.state, session.log.facts.opened_tunes) == (known, frozenset())
    names = session.begin_again()
    assert [tell(name) for name in names] == ["paper"]
    assert session.settings.look is Look.NIGHT
    assert session.log.facts.opened_tunes == {"ode-to-joy"}
    assert session.coach.state == other.coach.state
    assert session.notes.mastery == other.notes.mastery


def test_while_what_was_played_is_in_memory_only_nothing_begins_again(session):
    play_a_take(session)
    assert session.log.flush()
    with closing(sqlite3.connect(first_player().folder / LOG_FILE, timeout=0)) as held, held:
        held.execute("BEGIN IMMEDIATE")
        play_a_take(session)
        known = session.coach.state
        session.begin_again()
        assert session.coach.state == known
        held.execute("ROLLBACK")
    session.begin_again()
    assert session.coach.state == known


def test_a_take_of_another_computer_is_judged_here_when_it_was_begun_more_than_a_day_ago(session):
    """Until then it may be under way there."""
    played_take(session, notes=1)
    session.close()
    (first_player().folder / "device.json").unlink()
    for hours, judged in ((23, 0), (25, 1)):
        later = open_session(first_player(), HandClock(), now=lambda hours=hours: THEN + timedelta(hours=hours))
        later.begin_practice()
        with later.log.reading() as connection:
            assert connection.execute("SELECT count(*) FROM judgement").fetchone() == (judged,)
        later.close()


class Behind:
    """A process behind the game, over when a test says so."""

    def __init__(self):
        self.over, self.came_in, self.stopped = False, True, False

    def stop(self):
        self.stopped = True


@pytest.fixture
def behind(session):
    """The gatherings and the judgings of a session so far."""
    gatherings, judgings = [], []

    def starting(begun):
        return lambda: begun.append(Behind()) or begun[-1]

    session.gatherer = Gatherer(starting(gatherings))
    session._judging = Gatherer(starting(judgings))
    return gatherings, judgings


def rest(session, *seconds):
    return [session.look_behind(now_s, resting=True, in_take=False) for now_s in seconds]


def test_takes_of_long_ago_are_judged_at_rest_when_other_computers_had_their_say(session, behind):
    gatherings, judgings = behind
    rest(session, 0.0, 0.1, REST_S + 1)
    assert (len(gatherings), len(judgings)) == (1, 0)
    rest(session, 30.0, 60.0)
    assert judgings == []
    gatherings[0].over = True
    assert rest(session, 61.0) == [True], "what was gathered came in"
    rest(session, 62.0, 63.0 + REST_S)
    assert (len(gatherings), len(judgings)) == (1, 1)
    judgings[0].over = True
    assert rest(session, 64.0 + REST_S, 65.0 + REST_S) == [True, False]


def test_a_take_ends_the_judging_of_others_and_so_does_leaving(session, behind):
    gatherings, judgings = behind
    rest(session, 0.0, REST_S)
    gatherings[0].over, gatherings[0].came_in = True, False
    rest(session, 20.0, 21.0 + REST_S)
    assert not judgings[0].stopped
    session.look_behind(30.0, resting=False, in_take=True)
    assert judgings[0].stopped
    rest(session, 40.0, 41.0 + REST_S)
    assert not judgings[1].stopped
    session.close()
    assert judgings[1].stopped
