"""Another player takes the seat, a new one comes, and who sat there is remembered."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime

import pytest

from game.clock import HandClock
from game.player.device_settings import DeviceSettings
from game.player.profiles import LOG_FILE, PlayerError, add_player, first_player, player_at_start
from game.player.seat import add_player_here, remember_player, several_players, switch_player
from game.player.session import open_session
from game.player.settings import Look, Settings
from game.practice_log.transfer.shared_folder import devices_there
from tests.player.seated import play_a_take, takes_in
from tests.refusing import refusal

THEN = datetime(2026, 11, 24, 7, 30, tzinfo=UTC)


@pytest.fixture
def session():
    session = open_session(first_player(), HandClock(100.0), now=lambda: THEN)
    yield session
    session.close()


def test_another_player_takes_the_seat_when_all_that_was_played_is_written(session):
    grace = add_player("Grace")
    play_a_take(session)
    after = switch_player(session, grace)
    assert (after.name, after.clock, after.today()) == ("Grace", session.clock, session.today())
    assert takes_in(first_player()) == 1
    assert after.coach.state.records == {}
    after.close()


def test_while_the_log_cannot_be_written_nobody_takes_the_seat(session):
    grace = add_player("Grace")
    play_a_take(session)
    assert session.log.flush()
    with closing(sqlite3.connect(first_player().folder / LOG_FILE, timeout=0)) as held, held:
        held.execute("BEGIN IMMEDIATE")
        play_a_take(session)
        with refusal(PlayerError, "change players when"):
            switch_player(session, grace)
        held.execute("ROLLBACK")
    switch_player(session, grace).close()


def test_whoever_is_remembered_plays_at_the_next_start(session):
    grace = add_player("Grace")
    after = switch_player(session, grace)
    assert player_at_start().player == first_player()
    remember_player(after)
    assert player_at_start().player == grace
    after.close()


def test_a_new_player_finds_the_instruments_of_this_desk_and_nothing_else_set_up(session):
    guitar = DeviceSettings(channels=(11, 12, 13, 14, 15, 16), constant_ms=8.0, calibrated=True)
    session.change_settings(Settings(look=Look.NIGHT, devices={"a guitar": guitar}, pedals=(66,), position=2))
    grace = add_player_here(session, "Grace")
    found = open_session(grace, HandClock()).settings
    assert found == Settings(devices={"a guitar": guitar}, pedals=(66,))


def test_whether_several_play_here_is_told_and_no_where_that_cannot_be_read():
    assert not several_players()
    add_player("Grace")
    assert several_players()
    (first_player().folder / "players.json").write_text("[1, 2")
    assert not several_players()


def test_what_was_played_goes_into_the_shared_folder_when_another_takes_the_seat(session, tmp_path):
    grace = add_player("Grace")
    play_a_take(session)
    assert session.log.flush()
    session.sharing.share_through(tmp_path)
    session.gatherer.stop()
    after = switch_player(session, grace)
    session.gatherer._under_way.wait(60)
    assert devices_there(tmp_path, session.log.player.uuid) == (session.log.device_id,)
    after.close()
