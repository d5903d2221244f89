"""A tuning of one's own is typed, shown string by string, and holds once it is taken."""

import pygame
import pytest

from game.screens.routes import ToSettings, ToTuning
from tests.sampling import sample


def typed(table, text):
    table.letters(text)


def test_from_the_row_of_the_tuning_enter_leads_there_and_back(table):
    table.go(ToSettings())
    while table.screen._row.name != "tuning":
        if table.screen._row.name == table.screen._rows[-1].name:
            table.key(pygame.K_TAB)
        table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TuningScreen"
    table.key(pygame.K_RETURN)
    assert table.screen_name == "SettingsScreen"
    assert table.context.settings.tuning == "standard"


@pytest.mark.parametrize(
    ("text", "kept"),
    sample(
        [("DADGAD", "dadgad"), ("B1 E2 A2 D3 G3 B3 E4", "seven-string"), ("eb a d g b e", "39 45 50 55 59 64")],
        by_default=1,
    ),
)
def test_what_is_typed_holds_once_it_is_taken(table, text, kept):
    table.go(ToTuning())
    typed(table, text)
    assert table.screen.shown.name == kept
    table.key(pygame.K_RETURN)
    assert table.context.settings.tuning == kept


def test_what_is_no_tuning_stays_to_be_mended_and_its_word_is_named(table):
    table.go(ToTuning())
    typed(table, "E A D G X E")
    assert table.screen.shown is None
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TuningScreen"
    assert "'X' is neither a note nor a number" in table.screen._refused
    for _ in range(3):
        table.key(pygame.K_BACKSPACE)
    typed(table, "B E")
    table.key(pygame.K_RETURN)
    assert table.context.settings.tuning == "standard"


def test_the_letters_of_the_tabs_are_notes_while_one_types(table):
    table.go(ToTuning())
    typed(table, "g")
    assert (table.screen_name, table.screen.typed) == ("TuningScreen", "g")
    table.key(pygame.K_ESCAPE)
    assert table.context.settings.tuning == "standard"


def test_homes_chosen_by_hand_go_with_the_tuning_they_were_chosen_in(table):
    table.settle(choices={64: (2, 5)})
    table.go(ToTuning())
    typed(table, "open-g")
    table.key(pygame.K_RETURN)
    assert table.context.settings.choices == {}
