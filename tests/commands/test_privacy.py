"""What the program keeps is its owner's alone; what was asked for is made as that person makes files."""

import os
import stat
import sys
from pathlib import Path

import pytest

from game.clock import HandClock
from game.commands import play_command
from game.commands.main import main
from game.commands.privacy import private_files, tighten
from game.paths import own_folders, user_data, user_settings
from game.player.profiles import chosen_player, first_player
from game.player.session import open_session
from tests.practice_log.old_logs.unpacking import unpacked

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows knows no such permissions")
TUNE = Path(__file__).parents[2] / "content" / "tunes" / "03-ode-to-joy.musicxml"


@pytest.fixture(autouse=True)
def usual():
    """As most systems have it: others may read."""
    before = os.umask(0o022)
    yield
    os.umask(before)


def mode_of(path):
    return stat.S_IMODE(path.stat().st_mode)


def loose(*folders):
    """All files and folders that anybody but their owner can do anything with."""
    return [path for folder in folders for path in (folder, *folder.rglob("*")) if mode_of(path) & 0o077]


def practise(player):
    session = open_session(player, HandClock())
    session.begin_practice()
    session.change_settings(session.settings)
    session.write_crash_note(ValueError("a fault"), screen="ShelfScreen")
    assert session.coach.state.records
    assert session.notes.mastery.items
    session.close()
    return 0


def test_everything_that_the_game_and_the_commands_keep_is_their_owners_alone(monkeypatch, tmp_path):
    monkeypatch.setattr(play_command, "run", lambda _files: practise(first_player()) + practise(chosen_player("Grace")))
    assert main(["players", "--add", "Grace"]) == 0
    for player in (first_player(), chosen_player("Grace")):
        unpacked("two_weeks", player.folder)
        for file in player.folder.glob("*.*"):
            file.chmod(0o644)
        user_data().chmod(0o755)
    assert main([]) == 0
    assert main(["add", str(TUNE)]) == 0
    assert main(["report", "--out", str(tmp_path / "page.html")]) == 0
    kept = {path.name for folder in own_folders() for path in folder.rglob("*")}
    assert {"practice.sqlite", "practice.sqlite.sums", "player.json", "device.json", "settings.json", "library"} <= kept
    assert {"player_coach.snapshot", "players.json"} <= kept
    assert loose(*own_folders()) == []


def test_a_report_is_made_as_its_owner_makes_files(tmp_path):
    unpacked("two_weeks", user_data())
    assert main(["report", "--out", str(tmp_path / "page.html")]) == 0
    assert {mode_of(path) for path in tmp_path.glob("page*")} == {0o644}


@pytest.mark.parametrize("words", [("--export", "mine.zip"), ("--back-up", "mine.sqlite")])
def test_an_export_and_a_back_up_are_their_owners_alone_unless_others_write_there_too(tmp_path, words):
    unpacked("two_weeks", user_data())
    for folder, folder_mode, mode in ((tmp_path / "own", 0o755, 0o600), (tmp_path / "class", 0o2770, 0o660)):
        folder.mkdir()
        folder.chmod(folder_mode)
        assert main(["log", words[0], str(folder / words[1])]) == 0
        assert mode_of(folder / words[1]) == mode


def test_what_came_before_is_tightened_and_links_are_left_to_where_they_lead(tmp_path):
    outside = tmp_path / "outside"
    outside.write_text("somebody else's")
    (tmp_path / "in" / "deep").mkdir(parents=True)
    (tmp_path / "in" / "deep" / "log").write_text("takes")
    (tmp_path / "in" / "link").symlink_to(outside)
    tighten(tmp_path / "in")
    assert [mode_of(tmp_path / name) for name in ("in", "in/deep", "in/deep/log")] == [0o700, 0o700, 0o600]
    assert mode_of(outside) == 0o644


def test_where_something_cannot_be_changed_the_rest_is(tmp_path, monkeypatch):
    for name in "abc":
        (tmp_path / name).touch()
    whole = Path.chmod

    def refused(path, mode):
        if path.name == "a":
            raise PermissionError(1, "Operation not permitted")
        whole(path, mode)

    tmp_path.chmod(0o755)
    monkeypatch.setattr(Path, "chmod", refused)
    tighten(tmp_path)
    assert [mode_of(tmp_path / name) for name in "abc"] == [0o644, 0o600, 0o600]


def test_a_folder_that_is_not_there_or_that_nobody_else_can_get_into_is_left_as_it_is(tmp_path):
    tmp_path.chmod(0o700)
    (tmp_path / "log").touch()
    tighten(tmp_path)
    tighten(tmp_path / "none")
    assert mode_of(tmp_path / "log") == 0o644


@pytest.mark.parametrize("words", [(), ("log",), ("map",), ("nonsense",)])
def test_afterwards_everything_is_as_it_was(words):
    with private_files(words):
        pass
    assert os.umask(0o022) == 0o022


def test_on_windows_nothing_is_changed(monkeypatch):
    user_settings().parent.mkdir(parents=True, mode=0o755)
    monkeypatch.setattr("game.commands.privacy.sys.platform", "win32")
    with private_files(()):
        assert os.umask(0o022) == 0o022
    assert mode_of(user_settings().parent) == 0o755
