"""The folder that a player's computers share is chosen, shown and given up on screen."""

import sys

import pygame
import pytest

from game.player.settings import Look, Settings
from game.practice_log.transfer.exchange import exchange
from game.screens.choosing.file_chooser import WITHOUT_TK, FileChooser
from game.screens.routes import ToSharing
from game.text.catalogue import say
from tests.screens.table import Table
from tests.screens.told_keys import told_keys


@pytest.fixture
def table(tmp_path):
    table = Table(tmp_path / "home")
    table.go(ToSharing())
    yield table
    table.context.session.close()


@pytest.fixture
def shared(tmp_path):
    folder = tmp_path / "shared"
    folder.mkdir()
    return folder


def choose(table, program):
    """Enter, or Ctrl-O where there is a folder, and what the window of the system comes to, which is this program."""
    table.screen.chooser = FileChooser((sys.executable, "-c", program))
    table.context.window.message = ""
    if table.context.session.sharing.folder is None:
        table.key(pygame.K_RETURN)
    else:
        table.key(pygame.K_o, "\x0f", mod=pygame.KMOD_LCTRL)
    for _ in range(6000):
        table.app.step([])
        if table.screen.chooser._open is None:
            return
        pygame.time.wait(5)
    raise AssertionError("the window never closed")


def test_a_folder_that_is_chosen_is_shared_shown_and_remembered(table, shared, tmp_path):
    choose(table, f"print('[\"{shared}\"]')")
    assert table.context.session.sharing.folder == shared
    assert str(shared) in table.context.window.message
    assert Table(tmp_path / "home").context.session.sharing.folder == shared


def test_before_and_after_it_says_how_things_stand(table, shared, monkeypatch):
    said = []
    monkeypatch.setattr(
        "game.screens.setup.sharing_screen.draw_running",
        lambda _canvas, text, baseline, **_: said.append(text) or baseline,
    )
    table.app.draw()
    assert said[:2] == [say("sharing.none"), say("sharing.holds")]
    table.context.session.sharing.share_through(shared)
    said.clear()
    table.app.draw()
    assert said[0] == say("sharing.through", folder=shared)
    shared.rmdir()
    said.clear()
    table.app.draw()
    assert "can be reached" in said[0]


def test_delete_shares_no_more_and_is_offered_only_then(table, shared):
    table.key(pygame.K_DELETE)
    assert table.context.window.message == ""
    table.context.session.sharing.share_through(shared)
    table.key(pygame.K_DELETE)
    assert table.context.session.sharing.folder is None
    assert table.context.window.message == say("sharing.no_more")
    assert shared.is_dir()


@pytest.mark.parametrize("program", ["print('[]')", "pass"])
def test_a_changed_mind_changes_nothing(table, shared, program):
    table.context.session.sharing.share_through(shared)
    choose(table, program)
    assert table.context.session.sharing.folder == shared
    assert table.context.window.message == ""


def test_a_folder_that_cannot_be_shared_is_refused_in_a_sentence(table, tmp_path):
    """The one in which the log lies, and one that is not there."""
    for folder in (tmp_path / "home", tmp_path / "nowhere"):
        choose(table, f"print('[\"{folder}\"]')")
        assert table.context.session.sharing.folder is None
        assert table.context.window.message.endswith(".")


def test_without_windows_of_the_system_it_says_so(table):
    choose(table, f"raise SystemExit({WITHOUT_TK})")
    assert "without the windows" in table.context.window.message


def test_a_disk_that_refuses_is_said(table, monkeypatch):
    def refuse(*_):
        raise OSError(28, "No space left")

    monkeypatch.setattr(FileChooser, "open", refuse)
    table.key(pygame.K_RETURN)
    assert "No space left" in table.context.window.message
    assert table.screen_name == "SharingScreen"


def test_whoever_played_on_two_computers_before_says_that_they_are_one(table, shared, tmp_path):
    """What was played on both is one from then on, and settings are those that were chosen last."""
    session = table.context.session
    session.settings_of_file = True
    session.log.facts.open_tune("here")
    session.log.flush()
    other = Table(tmp_path / "other").context.session
    other.log.facts.open_tune("there")
    other.change_settings(Settings(look=Look.NIGHT))
    other.sharing.share_through(shared)
    assert other.close() is None
    exchange(other.log.path, now=table.now())
    choose(table, f"print('[\"{shared}\"]')")
    assert table.screen._strangers
    table.key(pygame.K_RETURN)
    assert session.log.facts.opened_tunes == {"here", "there"}
    assert session.settings.look is Look.NIGHT
    assert "“paper”" in table.context.window.message
    assert not table.screen._strangers


def test_where_nobody_else_shares_nobody_is_asked(table, shared):
    table.context.session.log.facts.open_tune("here")
    choose(table, f"print('[\"{shared}\"]')")
    assert not table.screen._strangers
    table.key(pygame.K_RETURN)
    assert table.screen_name != "SharingScreen"


def keys_of(table):
    """The keys at the foot."""
    told = []
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(
            "game.screens.setup.sharing_screen.draw_keys", lambda _context, _surface, keys: told.extend(keys)
        )
        table.app.draw()
    return list(told_keys(told).items())
