"""A command speaks the language of the player it is for."""

import json

import pytest

from game.commands.spoken_language import speak_for
from game.player.profiles import add_player, first_player
from game.text.catalogue import chosen
from tests.speaking import speaking


@pytest.fixture(autouse=True)
def no_variable(monkeypatch):
    """Neither variable nor locale say anything."""
    monkeypatch.delenv("HOMEFRET_LANGUAGE")
    monkeypatch.setenv("LC_ALL", "C")
    with speaking("en"):
        yield


def settle(player, text):
    player.settings_path.parent.mkdir(parents=True, exist_ok=True)
    player.settings_path.write_text(text, encoding="utf-8")


def test_the_settings_of_the_first_player_count_where_nobody_is_named():
    settle(first_player(), json.dumps({"language": "de", "look": "night"}))
    speak_for()
    assert chosen().language == "de"
    settle(add_player("Fink"), json.dumps({"language": "en"}))
    speak_for("Fink")
    assert chosen().language == "en"


@pytest.mark.parametrize("text", ["", "{", '{"language": 7}', "[]", "{}"])
def test_settings_that_say_nothing_of_it_leave_it_to_the_locale(text):
    settle(first_player(), text)
    speak_for()
    assert chosen().language == "en"


def test_a_player_who_is_not_here_is_told_of_by_the_command_itself():
    speak_for("nobody")
    assert chosen().language == "en"
