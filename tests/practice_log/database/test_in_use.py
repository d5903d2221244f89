"""A log that a game plays into is not replaced under it; whatever a killed game leaves behind is in nobody's way."""

import subprocess
import sys
from datetime import UTC, datetime

import pytest

from game.errors import LogError
from game.player.profiles import LOG_FILE, add_player, first_player
from game.player.seat import switch_player
from game.practice_log.back_ups.backup import back_up, checked_take_count
from game.practice_log.back_ups.restoring import restore
from game.practice_log.database.in_use import InUse, not_in_use
from game.screens.routes import ToPlayers
from tests.commands.running import refused
from tests.refusing import refusal
from tests.screens.table import Table

HOLDING = """
import sys
from pathlib import Path
from game.practice_log.database.in_use import InUse
held = InUse(Path(sys.argv[1]))
print("held", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def log(tmp_path):
    return tmp_path / "with space" / LOG_FILE


@pytest.fixture
def game_elsewhere(log):
    """Another process that has the log in use."""
    command = [sys.executable, "-c", HOLDING, str(log)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout.readline() == "held\n"
        yield process
        process.kill()


def test_what_another_process_plays_into_is_in_use_until_it_ends_however_it_ends(log, game_elsewhere):
    with refusal(LogError, r"the game is open and plays into .*: close it and try again"), not_in_use(log):
        pass
    game_elsewhere.kill()
    game_elsewhere.wait()
    with not_in_use(log):
        assert log.parent.exists()


def test_two_games_may_play_into_one_log(log, game_elsewhere):
    """SQLite takes turns for them: only who replaces the log must wait for both."""
    here = InUse(log)
    game_elsewhere.kill()
    game_elsewhere.wait()
    with refusal(LogError, "the game is open"), not_in_use(log):
        pass
    here.end()
    with not_in_use(log):
        pass


def test_it_ends_with_its_object(log):
    held = InUse(log)
    del held
    with not_in_use(log):
        pass


def test_a_file_that_is_damaged_is_in_nobodys_way_but_is_told(log):
    log.parent.mkdir()
    beside = log.with_name(f"{LOG_FILE}.in-use")
    beside.write_bytes(b"nonsense" * 200)
    InUse(log).end()
    with refusal(LogError, "in-use is damaged: delete it"), not_in_use(log):
        pass
    beside.unlink()
    with not_in_use(log):
        pass


def test_where_nothing_can_be_written_the_game_goes_on_and_the_restorer_is_told(tmp_path):
    (tmp_path / "file").write_text("")
    InUse(tmp_path / "file" / LOG_FILE).end()
    with refusal(LogError, r"cannot be written .*: free it"), not_in_use(tmp_path / "file" / LOG_FILE):
        pass


def seated():
    """The first player at the desk."""
    table = Table(profile=first_player())
    table.context.session.begin_practice()
    return table


def read_a_bar(table):
    table.open("F4 h, G4 h")
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.5)


def test_a_restore_is_refused_while_the_game_is_open_and_changes_nothing(tmp_path):
    """By the command, as another process; after the game was closed it works."""
    table = seated()
    read_a_bar(table)
    assert table.context.session.log.flush()
    log, copy = first_player().folder / LOG_FILE, tmp_path / "copy.sqlite"
    assert back_up(log, copy) == 1
    read_a_bar(table)
    assert "the game is open" in refused("log", "--restore", copy)
    assert not list(log.parent.glob("*before*"))
    read_a_bar(table)
    assert table.context.session.log.close() is None
    assert checked_take_count(log) == 3
    takes, before = restore(copy, log, now_utc=datetime.now(UTC))
    assert (takes, checked_take_count(log), checked_take_count(before)) == (1, 1, 3)


def test_only_the_log_of_the_player_at_the_desk_is_in_use():
    table = seated()
    grace = add_player("Grace")
    table.go(ToPlayers())
    with not_in_use(grace.folder / LOG_FILE):
        pass
    table.context.session = switch_player(table.context.session, grace)
    with not_in_use(first_player().folder / LOG_FILE):
        pass
    with refusal(LogError, "the game is open"), not_in_use(grace.folder / LOG_FILE):
        pass
