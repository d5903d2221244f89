"""A player's new name holds on this computer, and goes with the log wherever that goes."""

import json
import sqlite3
from contextlib import closing
from datetime import timedelta

import pytest

from game.errors import LogError
from game.player.players_file import PlayerError
from game.player.profiles import add_player, chosen_player, first_player, players
from game.player.renaming import rename_player
from game.practice_log.back_ups.backup import back_up
from game.practice_log.back_ups.restoring import restore
from game.practice_log.database.identity import Identity, read_identity
from game.practice_log.database.opening import log_owner, opened_log
from game.practice_log.database.own_player import own_player
from game.practice_log.database.store import open_store
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun
from tests.refusing import refusal


def later():
    return MORNING + timedelta(days=1)


def played(player):
    """A player whose log has a take, under whatever name they had then."""
    with closing(open_store(player.log_path, now_utc=MORNING)) as log:
        put_take(log, begun(player=Identity(uuid=PLAYER.uuid)), DEVICE)
    return player


def owner(log_path):
    with opened_log(log_path) as log:
        return log_owner(log, log_path, "")


def test_the_first_player_has_a_name_as_soon_as_one_is_given():
    renamed = rename_player(played(first_player()), "  Ada ", later)
    assert renamed == first_player() == chosen_player("ada")
    assert owner(first_player().log_path) == PLAYER == Identity(uuid=PLAYER.uuid, name="Ada")


def test_a_name_can_be_given_before_anything_was_played():
    rename_player(first_player(), "Ada", later)
    assert not first_player().log_path.exists()
    assert own_player(first_player().log_path).name == "Ada"


def test_another_player_is_renamed_in_the_table_and_found_by_the_new_name():
    grace = played(add_player("Grace"))
    renamed = rename_player(grace, "Möwe", later)
    assert (renamed.name, renamed.folder) == ("Möwe", grace.folder)
    assert players() == (first_player(), renamed)
    assert read_identity(grace.folder / "player.json", Identity).name == "Möwe"
    with refusal(PlayerError, "no player 'Grace'"):
        chosen_player("Grace")


def test_the_newest_name_goes_with_a_back_up_to_another_computer(tmp_path):
    for name in ("Augusta", "Ada"):
        rename_player(played(first_player()) if name == "Augusta" else first_player(), name, later)
    back_up(first_player().log_path, tmp_path / "copy.sqlite")
    elsewhere = tmp_path / "elsewhere" / "practice.sqlite"
    restore(tmp_path / "copy.sqlite", elsewhere, now_utc=MORNING)
    assert read_identity(elsewhere.parent / "player.json", Identity) == PLAYER
    assert owner(elsewhere) == PLAYER


@pytest.mark.parametrize(("name", "reason"), [("\u202e", "needs a name"), (" grace", "'grace' already")])
def test_a_name_that_cannot_be_read_or_that_another_has_is_refused(name, reason):
    add_player("Grace")
    with refusal(PlayerError, reason):
        rename_player(first_player(), name, later)
    assert first_player().name == ""


def test_a_player_may_write_their_own_name_otherwise():
    assert rename_player(add_player("Grace"), "GRACE", later).name == "GRACE"


def test_a_log_that_cannot_be_written_leaves_everything_as_it_was():
    grace = played(add_player("Grace"))
    with opened_log(grace.log_path):
        pass
    with closing(sqlite3.connect(grace.log_path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with refusal(LogError, "practice.sqlite"):
            rename_player(grace, "Möwe", later)
    assert players() == (first_player(), grace)
    assert json.loads((grace.folder / "player.json").read_text())["name"] in ("", "Grace")


def test_a_folder_that_cannot_be_written_is_told(monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("game.player.renaming.write_identity", full)
    with refusal(PlayerError, "cannot be renamed in .*No space left"):
        rename_player(first_player(), "Ada", later)
