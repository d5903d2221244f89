"""The keys of the shelf, where they lead and how they are told."""

import pygame
import pytest

from game.screens.choosing.shelf_keys import ROUTE_OF_KEY, route_hints, shelf_hints

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
    told = {key for key, _ in route_hints(several_players=True)}
    assert told == {chr(key).upper() for key in ROUTE_OF_KEY if key != pygame.K_ESCAPE}


def test_players_are_told_of_only_where_there_are_several():
    assert ("P", "players") in route_hints(several_players=True)
    assert "P" not in dict(route_hints(several_players=False))


def test_escape_ends_a_search_before_it_ends_the_game():
    assert [shelf_hints(typing=False, searched=searched)[-1] for searched in (False, True)] == [
        ("Esc", "leave"),
        ("Esc", "all"),
    ]


def test_while_a_search_is_typed_letters_are_words():
    assert not any(len(key) == 1 and key.isalpha() for key, _ in shelf_hints(typing=True, searched=False))


def test_while_files_are_read_escape_ends_that_before_it_ends_the_game():
    assert shelf_hints(typing=False, searched=False, reading=True)[-1] == ("Esc", "stop reading")
    assert shelf_hints(typing=False, searched=True, reading=True)[-1] == ("Esc", "all")


def test_what_was_not_read_has_a_key_only_where_there_is_something():
    assert ("R", "not read") in route_hints(several_players=False, refused=True)
    assert "R" not in dict(route_hints(several_players=False))
