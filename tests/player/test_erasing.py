"""A player who is erased leaves nothing on this computer but a mark that says so, and nobody else loses anything."""

import json
import os
import shutil
from contextlib import closing
from datetime import date
from pathlib import Path
from uuid import UUID

import pytest

from game.clock import HandClock
from game.errors import LogError
from game.paths import own_folders, user_data, user_settings
from game.player.erasing import erase_player, player_files
from game.player.players_file import PlayerError, read_players
from game.player.profiles import add_player, chosen_player, first_player, players, remember_chosen
from game.player.session import open_session
from game.practice_log.back_ups.backup import back_up
from game.practice_log.back_ups.restoring import restore
from game.practice_log.database.in_use import InUse
from game.practice_log.database.opening import log_owner, opened_log
from game.practice_log.rows.entry_rows import About
from game.practice_log.transfer.erased import is_erased, is_mark
from game.practice_log.transfer.exchange import exchange
from game.practice_log.transfer.export import write_export
from game.practice_log.transfer.shared_folder import player_folder, remember_shared
from game.practice_log.writing import rescue
from game.practice_log.writing.entries import AddFact
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER
from tests.practice_log.old_logs.unpacking import FACTS, unpacked
from tests.refusing import refusal

DAY = date(2026, 11, 29)


def settled(player, log):
    """A player who practised, and of whom all is kept that is kept of anybody."""
    unpacked(log, player.folder)
    session = open_session(player, HandClock())
    session.begin_practice()
    session.change_settings(session.settings)
    session.write_crash_note(ValueError("a fault"), screen="ShelfScreen")
    assert session.coach.state.records
    session.close()
    shutil.copy(player.log_path, player.folder / "practice-before-20261129T120000000000.sqlite")
    return player


@pytest.fixture
def first():
    for folder, name in (("library", "a.tune.json"), ("classes", "a.sqlite")):
        (user_data() / folder).mkdir()
        (user_data() / folder / name).write_text("everybody's")
    return settled(first_player(), "third_computer")


@pytest.fixture
def grace():
    return settled(add_player("Grace"), "two_weeks")


def files():
    return {path for folder in own_folders() for path in folder.rglob("*") if path.is_file()}


def test_nothing_of_another_player_than_the_first_is_left(first, grace):
    found = player_files("grace")
    before, hers = files(), found.files
    erase_player(found, DAY)
    assert players() == (first,)
    assert before - files() == set(hers)
    assert {path.name for path in hers} >= {"practice.sqlite", "player_coach.snapshot", "settings.json"}
    assert not grace.folder.exists()
    assert not grace.settings_path.parent.exists()


def test_of_the_first_player_everything_goes_but_what_is_everybodys(first, grace):
    (some, *_) = FACTS["third_computer"]["players"]
    found, hers = player_files(some), player_files("grace").files
    assert found.player == first
    erase_player(found, DAY)
    left = {path.relative_to(user_data()).as_posix() for path in files() if path.is_relative_to(user_data())}
    marks = {name for name in left if name.startswith("erased-")}
    assert len(marks) == 3
    of_grace = {path.relative_to(user_data()).as_posix() for path in hers if path.is_relative_to(user_data())}
    assert left - marks == of_grace | {"library/a.tune.json", "classes/a.sqlite", "players.json"}
    assert not user_settings().exists()
    assert players() == (first_player(), grace)


def test_where_settings_and_logs_lie_in_one_folder_it_is_the_same(monkeypatch):
    """As on macOS and Windows."""
    monkeypatch.setenv("XDG_CONFIG_HOME", os.environ["XDG_DATA_HOME"])
    first, grace = settled(first_player(), "third_computer"), settled(add_player("Grace"), "two_weeks")
    erase_player(player_files("Grace"), DAY)
    assert not grace.folder.exists()
    assert first.settings_path.exists()
    erase_player(player_files(next(iter(FACTS["third_computer"]["players"]))), DAY)
    assert {path.name for path in files() if not path.name.startswith("erased-")} == {"players.json"}


def test_every_id_they_ever_had_is_marked_so_that_no_back_up_brings_them_back(first, tmp_path):
    back_up(first.log_path, tmp_path / "copy.sqlite")
    ids = player_files(next(iter(FACTS["third_computer"]["players"]))).ids
    assert {str(uuid) for uuid in ids} == set(FACTS["third_computer"]["players"])
    erase_player(player_files(str(min(ids))), DAY)
    assert all(is_erased(user_data(), uuid) for uuid in ids)
    with refusal(LogError, "was erased here"):
        restore(tmp_path / "copy.sqlite", first.log_path, now_utc=MORNING)


@pytest.mark.usefixtures("first")
def test_whoever_plays_next_in_the_place_of_the_first_is_somebody_new():
    known = next(iter(FACTS["third_computer"]["players"]))
    erase_player(player_files(known), DAY)
    session = open_session(first_player(), HandClock())
    session.begin_practice()
    assert str(session.log.player.uuid) not in FACTS["third_computer"]["players"]
    assert session.coach.state.records == {}
    session.close()
    assert not is_erased(user_data(), session.log.player.uuid)


def test_whoever_was_chosen_last_and_is_erased_is_chosen_no_longer(grace):
    remember_chosen(grace)
    erase_player(player_files("Grace"), DAY)
    assert read_players().table.last == ""


def test_while_a_game_plays_into_the_log_nothing_goes(grace):
    before = files()
    with closing(Playing(grace.log_path)), refusal(LogError, "practice.sqlite"):
        erase_player(player_files("Grace"), DAY)
    assert files() >= before


class Playing(InUse):
    """A game that plays into a log."""

    def close(self):
        self.end()


def test_what_could_not_be_written_beside_the_log_goes_from_wherever_it_lies(first, grace, monkeypatch):
    def refused(folder, stem, content):
        if folder == grace.folder:
            raise OSError(28, "No space left on device")
        return write(folder, stem, content)

    write = rescue._write
    monkeypatch.setattr(rescue, "_write", refused)
    fact = AddFact(PLAYER, DEVICE, MORNING, About.OPENED_TUNE, {"tune": "a"})
    elsewhere = rescue.write_rescue(grace.log_path, [fact], now=MORNING)
    beside = rescue.write_rescue(first.log_path, [fact], now=MORNING)
    assert elsewhere.parent == Path.home()
    found = player_files("Grace")
    assert found.files.count(elsewhere) == 1
    erase_player(found, DAY)
    assert not elsewhere.exists()
    assert beside.exists()
    others = player_files(next(iter(FACTS["third_computer"]["players"])))
    assert others.files.count(beside) == 1


def test_what_cannot_be_removed_is_told_and_erasing_again_goes_on_from_there(grace, monkeypatch):
    whole = Path.unlink

    def refused(path, *, missing_ok=False):
        if path.name == "practice.sqlite":
            raise PermissionError(13, "Permission denied", str(path))
        whole(path, missing_ok=missing_ok)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "unlink", refused)
        with refusal(PlayerError, r"practice\.sqlite cannot be removed \(Permission denied\)"):
            erase_player(player_files("Grace"), DAY)
    assert chosen_player("Grace") == grace
    erase_player(player_files("Grace"), DAY)
    assert players() == (first_player(),)


def test_a_player_who_never_played_can_be_erased():
    add_player("Grace")
    erase_player(player_files("Grace"), DAY)
    assert players() == (first_player(),)


def test_a_log_that_cannot_be_read_does_not_keep_its_player(grace):
    grace.log_path.write_bytes(b"nonsense" * 1000)
    ids = player_files("Grace").ids
    assert str(*ids) == json.loads((grace.folder / "player.json").read_text())["uuid"]
    erase_player(player_files("Grace"), DAY)
    assert not grace.folder.exists()


@pytest.mark.parametrize("wanted", ["", " ", "Alan", "00000000-0000-0000-0000-000000000001"])
def test_nobody_is_erased_by_a_name_or_an_id_that_nobody_has(grace, wanted):
    """Nor is the first by having none."""
    with refusal(PlayerError, r"there is: Grace"):
        player_files(wanted)
    assert grace.log_path.exists()


@pytest.fixture
def shared(first, grace, tmp_path):
    """A folder that both players share their logs through, in which lie exports of theirs, and what is nobody's
    business.
    """
    folder = tmp_path / "shared"
    (folder / "below").mkdir(parents=True)
    for player, name in ((first, "ada.zip"), (grace, "below/grace.zip"), (grace, "grace.zip")):
        with opened_log(player.log_path) as log:
            write_export(log, log_owner(log, player.log_path, ""), folder / name, now=MORNING)
    remember_shared(first.folder, folder)
    remember_shared(grace.folder, folder)
    for player in (first, grace):
        assert exchange(player.log_path, now=MORNING).written
    (folder / "notes.txt").write_text("What I wanted to say.")
    (folder / "broken.zip").write_bytes(b"PK no zip")
    return folder


def test_a_player_is_erased_from_a_shared_folder_too_and_nobody_else_is(shared):
    found = player_files("Grace", shared)
    shares = player_folder(shared, *found.ids)
    assert set(found.in_shared) == {shares, shared / "grace.zip", shared / "below" / "grace.zip"}
    of_all = {path for path in shared.rglob("*") if path.is_file()}
    gone = {path for path in found.files if path.is_relative_to(shared)}
    assert any(path.is_relative_to(shares) for path in gone)
    erase_player(found, DAY)
    left = {path for path in shared.rglob("*") if path.is_file()}
    assert {path for path in left if not is_mark(path)} == of_all - gone
    assert list((shared / "homefret").iterdir())
    assert all(is_erased(folder, uuid) for uuid in found.ids for folder in (shared, user_data()))
    assert players() == (first_player(),)


def test_a_folder_that_is_full_is_told_as_that_and_nothing_has_gone_from_it(shared, monkeypatch):
    found = player_files("Grace", shared)
    before = {path for path in shared.rglob("*") if path.is_file()}

    def full(folder, *_):
        if folder == shared:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr("game.player.erasing.mark_erased", full)
    with refusal(PlayerError, r"nothing can be written into .*No space left on device"):
        erase_player(found, DAY)
    assert {path for path in shared.rglob("*") if path.is_file()} == before


def test_without_being_asked_to_nothing_goes_from_anywhere_else(shared):
    found = player_files("Grace")
    erase_player(found, DAY)
    assert (shared / "grace.zip").exists()
    assert not any(is_erased(shared, uuid) for uuid in found.ids)


def test_a_computer_that_still_has_their_log_no_longer_shares_it(shared, grace, tmp_path):
    other = tmp_path / "other computer"
    shutil.copytree(grace.folder, other)
    erase_player(player_files("Grace", shared), DAY)
    with refusal(LogError, "erased"):
        exchange(other / "practice.sqlite", now=MORNING)
    assert not player_folder(shared, UUID(*FACTS["two_weeks"]["players"])).exists()


def test_whoever_is_only_in_the_shared_folder_is_erased_there_by_their_id(shared, grace):
    ids = player_files("Grace").ids
    erase_player(player_files("Grace"), DAY)
    found = player_files(str(*ids), shared)
    assert found.player is None
    erase_player(found, DAY)
    assert not list(shared.rglob("grace.zip"))
    assert not player_folder(shared, *ids).exists()
    with refusal(PlayerError, "there is no player"):
        player_files(str(*ids), shared)
    assert not grace.folder.exists()


@pytest.mark.usefixtures("grace")
def test_a_shared_folder_that_is_not_there_is_told_before_anything_goes(tmp_path):
    with refusal(PlayerError, "there is no folder .*none"):
        player_files("Grace", tmp_path / "none")
