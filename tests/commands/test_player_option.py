"""The word that says which player is meant."""

import argparse

import pytest

from game.commands.player_option import add_player_word, player_from
from game.player.players_file import PlayerError
from game.player.profiles import add_player, first_player
from tests.refusing import refusal


@pytest.fixture
def parser():
    made = argparse.ArgumentParser()
    add_player_word(made.add_argument_group("group"))
    return made


def test_a_player_is_meant_by_name_or_by_the_environment_else_the_first(parser, monkeypatch):
    fink = add_player("Fink")
    assert player_from(parser.parse_args([])) == first_player()
    assert player_from(parser.parse_args(["--player", " fink "])) == fink
    monkeypatch.setenv("HOMEFRET_PLAYER", "Fink")
    assert player_from(parser.parse_args([])) == fink


def test_a_name_that_nobody_has_is_refused_with_those_there_are(parser):
    add_player("Fink")
    with refusal(PlayerError, "'Dohle' here .there is: Fink."):
        player_from(parser.parse_args(["--player", "Dohle"]))
