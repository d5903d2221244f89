"""`homefret` alone."""

import sys
import types

import pygame
import pytest

from game.commands import demo_command, play_command


@pytest.fixture
def played(monkeypatch):
    """What was begun instead of a game."""
    begun = []
    window = types.SimpleNamespace(play=lambda files: begun.append(("game", *files)) or 0)
    monkeypatch.setitem(sys.modules, "game.commands.game_window", window)
    monkeypatch.setattr(demo_command, "run_fast", lambda: begun.append("demo") or 0)
    return begun


def test_a_driver_that_was_asked_for_by_name_is_obeyed(played, monkeypatch):
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    assert play_command.run() == 0
    assert played == [("game",)]


@pytest.mark.parametrize("driver", ["offscreen", "dummy"])
def test_where_sdl_found_no_screen_that_is_said_and_the_demo_runs(driver, played, monkeypatch, capsys):
    monkeypatch.delenv("SDL_VIDEODRIVER")
    monkeypatch.setattr(pygame.display, "init", lambda: None)
    monkeypatch.setattr(pygame.display, "quit", lambda: None)
    monkeypatch.setattr(pygame.display, "get_driver", lambda: driver)
    assert play_command.run() == 0
    assert played == ["demo"]
    assert "There is no screen here" in capsys.readouterr().err


def test_where_the_display_fails_it_is_the_demo_too(played, monkeypatch, capsys):
    def failed():
        raise pygame.error("no available video device")

    monkeypatch.setattr(pygame.display, "init", failed)
    assert play_command.run() == 0
    assert played == ["demo"]
    assert capsys.readouterr().out == ""
