"""Whose log it is, the log tells; the file beside it is made again from it."""

import json
import sqlite3
from contextlib import closing
from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity, read_identity
from game.practice_log.database.own_player import own_player, player_of_log
from game.practice_log.database.store import open_store
from game.practice_log.rows.entry_rows import About, Recorded, put_fact
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun
from tests.practice_log.old_logs.unpacking import FACTS, LOG, unpacked

BO = Identity(uuid=UUID(int=11), name="Bo")


@pytest.fixture
def path(tmp_path):
    """A log in which Ada took two takes, and then Bo one."""
    log = open_store(tmp_path / LOG, now_utc=MORNING)
    for minutes, player in ((0, PLAYER), (5, PLAYER), (9, BO)):
        put_take(log, begun(player=player, minutes=minutes), DEVICE)
    log.close()
    return tmp_path / LOG


def kept(path):
    return read_identity(path.parent / "player.json", Identity)


def test_before_there_is_a_log_somebody_new_is_made_once_and_kept(tmp_path):
    made = own_player(tmp_path / "there" / LOG, name="Ada")
    assert own_player(tmp_path / "there" / LOG, name="Bo") == made == kept(tmp_path / "there" / LOG)
    assert made.name == "Ada"
    assert [file.name for file in (tmp_path / "there").iterdir()] == ["player.json"]


@pytest.mark.parametrize("broken", [None, b"", b"[1, 2", b'{"uuid": 5}'])
def test_a_file_that_is_missing_or_broken_is_made_again_from_the_log(path, broken):
    """The log is that of who took most takes."""
    if broken is not None:
        (path.parent / "player.json").write_bytes(broken)
    assert own_player(path) == PLAYER == kept(path)
    assert [file.read_bytes() for file in path.parent.glob("*.broken-*")] == ([] if broken is None else [broken])


def test_where_file_and_log_disagree_the_log_is_right(path):
    (path.parent / "player.json").write_text(json.dumps({"uuid": str(UUID(int=5)), "name": "somebody else"}))
    assert own_player(path) == PLAYER == kept(path)


def test_the_name_is_the_one_that_the_player_gave_themselves_last(path):
    log = open_store(path, now_utc=MORNING)
    recorded = Recorded(put_device(log, DEVICE), put_player(log, PLAYER), MORNING)
    for name in ("Augusta", " Ada\u202e L. "):
        put_fact(log, recorded, About.PLAYER_NAME, {"name": name})
    log.close()
    assert own_player(path) == Identity(uuid=PLAYER.uuid, name="Ada L.") == kept(path)


def test_a_player_whom_the_log_does_not_name_keeps_the_name_of_the_file(tmp_path):
    log = open_store(tmp_path / LOG, now_utc=MORNING)
    put_take(log, begun(player=Identity(uuid=PLAYER.uuid)), DEVICE)
    log.close()
    (tmp_path / "player.json").write_text(json.dumps({"uuid": str(UUID(int=5)), "name": "Ada"}))
    assert own_player(tmp_path / LOG) == Identity(uuid=PLAYER.uuid, name="Ada")


def test_a_log_of_which_nothing_can_be_read_leaves_the_file_right(path):
    own_player(path)
    path.write_bytes(b"nonsense" * 1000)
    assert player_of_log(path) is None
    assert own_player(path) == PLAYER


def test_a_log_that_another_program_holds_leaves_the_file_right(path, monkeypatch):
    monkeypatch.setattr("game.practice_log.database.own_player._WAIT_S", 0.0)
    own_player(path)
    with closing(sqlite3.connect(path)) as other, other:
        other.execute("PRAGMA journal_mode = DELETE")
        other.execute("BEGIN EXCLUSIVE")
        assert player_of_log(path) is None
        assert own_player(path) == PLAYER
    other.close()


@pytest.mark.parametrize("name", FACTS)
def test_logs_of_before_entries_had_keys_tell_their_player_too(name, tmp_path):
    """In the log that went through three computers, the player of the first took most takes."""
    folder = unpacked(name, tmp_path)
    first = next(iter(FACTS["first_computer"]["players"]))
    (most,) = (first,) if name == "third_computer" else FACTS[name]["players"]
    assert str(own_player(folder / LOG).uuid) == most


def test_where_nothing_can_be_written_it_holds_for_this_run(tmp_path):
    (tmp_path / "in the way").write_text("")
    log = tmp_path / "in the way" / "log" / LOG
    assert own_player(log).uuid != own_player(log).uuid
