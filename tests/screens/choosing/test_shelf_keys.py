"""The keys of the shelf, where they lead and how they are told."""

import pygame
import pytest

from game.screens.choosing.shelf_keys import ROUTE_OF_KEY, route_hints, shelf_hints
from tests.screens.told_keys import told_keys

SCREENS = {
    pygame.K_t: "TodayScreen",
    pygame.K_n: "PlacesPage",
    pygame.K_e: "FromPaperScreen",
    pygame.K_g: "ProgressScreen",
    pygame.K_m: "MapScreen",
    pygame.K_i: "InstrumentsScreen",
    pygame.K_s: "SettingsScreen",
    pygame.K_p: "PlayersScreen",
}


@pytest.mark.parametrize(("key", "screen"), SCREENS.items())
def test_each_key_leads_to_its_screen(table, key, screen):
    table.key(key, chr(key))
    assert table.screen_name == screen


def test_every_letter_that_leads_somewhere_is_told_and_no_other():
    told = told_keys(route_hints(several_players=True))
    assert set(told) == {chr(key).upper() for key in ROUTE_OF_KEY if key != pygame.K_ESCAPE}


def test_players_are_told_of_only_where_there_are_several():
    assert told_keys(route_hints(several_players=True))["P"] == "players"
    assert "P" not in told_keys(route_hints(several_players=False))


def test_escape_ends_a_search_before_it_ends_the_game():
    means = [told_keys(shelf_hints(typing=False, searched=searched))["Esc"] for searched in (False, True)]
    assert means == ["leave", "all"]


def test_while_a_search_is_typed_letters_are_words():
    assert not any(len(key) == 1 and key.isalpha() for key in told_keys(shelf_hints(typing=True, searched=False)))


def test_while_files_are_read_escape_ends_that_before_it_ends_the_game():
    assert told_keys(shelf_hints(typing=False, searched=False, reading=True))["Esc"] == "stop reading"
    assert told_keys(shelf_hints(typing=False, searched=True, reading=True))["Esc"] == "all"


def test_what_was_not_read_has_a_key_only_where_there_is_something():
    assert told_keys(route_hints(several_players=False, refused=True))["R"] == "not read"
    assert "R" not in told_keys(route_hints(several_players=False))
