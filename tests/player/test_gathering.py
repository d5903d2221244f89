"""A process brings a log together with a shared folder, and tells whether anything came into the log."""

import sys
from uuid import UUID

import pytest

from game.player.gathering import start_gathering, strangers_in
from game.player.player_log import PlayerLog
from game.practice_log.database.opening import opened_log
from game.practice_log.transfer.shared_folder import player_folder, remember_shared
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import Computer, lines_of, take_in

A_MINUTE_S = 60.0


@pytest.fixture
def log(tmp_path):
    log = PlayerLog(tmp_path / "home")
    log.facts.open_tune("ode-to-joy")
    assert log.flush()
    yield log
    log.close()


@pytest.fixture
def shared(log, tmp_path):
    folder = tmp_path / "shared"
    folder.mkdir()
    remember_shared(log.path.parent, folder)
    return folder


def bring(log):
    """Something of another computer comes into the log."""
    with opened_log(log.path) as connection:
        take_in(connection, lines_of(Computer(3).practise(2).log), player=log.player, accepted=[str(PLAYER.uuid)])


def test_without_a_shared_folder_no_process_begins(log):
    assert start_gathering(log) is None


@pytest.mark.usefixtures("shared")
def test_a_gathering_that_finds_nothing_ends_and_says_so(log):
    process = start_gathering(log)
    process.wait(A_MINUTE_S)
    assert (process.over, process.came_in) == (True, False)


@pytest.mark.usefixtures("shared")
def test_what_came_into_the_log_since_it_began_is_seen(log):
    process = start_gathering(log)
    bring(log)
    process.wait(A_MINUTE_S)
    assert process.came_in


@pytest.mark.usefixtures("shared")
def test_where_no_process_can_be_begun_nothing_happens(log, monkeypatch):
    monkeypatch.setattr(sys, "executable", "no such interpreter")
    process = start_gathering(log)
    process.wait(A_MINUTE_S)
    process.stop()
    assert (process.over, process.came_in) == (True, False)


def gather(log):
    """Bring a log together with the folder, in a process of its own; whether anything came in."""
    process = start_gathering(log)
    process.wait(A_MINUTE_S)
    assert process.over
    return process.came_in


def test_what_one_computer_recorded_another_knows_by_way_of_the_folder(log, shared, tmp_path):
    """The other one was empty until then, and becomes that of the same player."""
    school = PlayerLog(tmp_path / "school")
    assert school.player != log.player
    assert school.flush()
    remember_shared(school.path.parent, shared)
    assert not gather(log)
    assert gather(school)
    school.read_anew()
    assert school.player.uuid == log.player.uuid
    assert school.facts.opened_tunes == {"ode-to-joy"}
    school.facts.open_tune("au-clair")
    assert school.flush()
    assert not gather(school)
    assert gather(log)
    log.read_anew()
    assert log.facts.opened_tunes == {"ode-to-joy", "au-clair"}
    school.close()


def test_whoever_played_on_both_before_is_a_stranger_there(log, shared, tmp_path):
    school = PlayerLog(tmp_path / "school")
    school.facts.open_tune("au-clair")
    assert school.flush()
    remember_shared(school.path.parent, shared)
    assert not strangers_in(shared, log)
    gather(log)
    assert not strangers_in(shared, log)
    assert strangers_in(shared, school)
    assert not gather(school)
    assert not strangers_in(tmp_path / "nowhere", school)
    school.close()


def test_in_an_empty_log_one_who_shares_alone_is_no_stranger_and_two_are(shared, log, tmp_path):
    gather(log)
    empty = PlayerLog(tmp_path / "empty")
    assert empty.flush()
    assert not strangers_in(shared, empty)
    player_folder(shared, UUID(int=5)).mkdir()
    assert strangers_in(shared, empty)
    empty.close()
