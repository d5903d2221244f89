"""The account of a tune: what was read, what was guessed, and one key for what does not lie on the map."""

import pygame
import pytest

from game.screens.routes import ToImportSummary
from game.tunes.library.fitting import Remedy
from game.tunes.library.library import entry_of, shelf
from tests.made import score


@pytest.fixture
def account(table):
    low = score("F3 q, G3 q, A3 h", "F3 w")
    table.go(ToImportSummary(entry_of(low, name="low", file_name="low.musicxml"), low))
    return table


def take(table, remedy):
    number = next(n for n, way in enumerate(table.screen.ways, start=1) if way.remedy is remedy)
    table.key(ord(str(number)), str(number))


def test_it_says_how_many_notes_have_no_home(account):
    assert "3 of 4 notes have no home" in account.screen.sentences[-1]


def test_an_octave_higher_is_kept_beside_it_on_the_shelf(account):
    take(account, Remedy.OCTAVE)
    assert account.screen.without == 0
    assert any("an octave higher" in entry.title for entry in shelf())
    account.key(pygame.K_RETURN)
    assert account.screen_name == "PlacesPage"
    assert account.screen.take.expected[0].home is not None


def test_another_position_changes_the_map(account):
    take(account, Remedy.POSITION)
    assert account.context.settings.position != 5
    assert account.screen.without == 0


def test_outlying_homes_are_added_to_the_map(account):
    take(account, Remedy.OUTLYING)
    assert account.context.settings.choices[41] == (6, 1)
    assert account.screen.without == 0


def test_a_key_on_the_shelf_leads_there(table):
    table.key(pygame.K_a)
    assert table.screen_name == "ImportSummaryScreen"
    assert "All" in table.screen.sentences[-1]
