"""What the shelf says of its order, its search and its tunes."""

from dataclasses import replace

import pytest

from game.music.tune_kind import TuneKind
from game.neck.neck_map import standard_map
from game.screens.choosing.shelf_words import beside_title, details_in_words, order_in_words, search_in_words
from game.tunes.library.shelf_entry import entry_of
from game.tunes.library.shelf_order import ShelfOrder
from tests.made import score

MAP = standard_map(position=5)


def entry(*rows, key=0):
    return entry_of(score(*rows, key=key), name="a", file_name="a.musicxml")


def beside(order, *rows, composer=""):
    return beside_title(replace(entry(*rows), composer=composer), order, MAP, {})


def test_only_an_order_that_was_chosen_is_told():
    assert order_in_words(ShelfOrder.AS_PUT) == ""
    told = [order_in_words(order) for order in ShelfOrder if order is not ShelfOrder.AS_PUT]
    assert all(told)
    assert len(set(told)) == len(told)


def test_a_search_tells_its_words_and_how_many_were_found():
    told = search_in_words("ford", at=2, count=3, typing=True)
    assert told == search_in_words("ford", at=2, count=3, typing=False)
    assert all(word in told for word in ("ford", "2", "3"))


def test_it_says_where_in_the_list_one_is_and_invites_to_type_while_nothing_is():
    assert search_in_words("", at=12, count=300, typing=False) == "12 of 300"
    assert "12" not in search_in_words("", at=12, count=300, typing=True) != ""


@pytest.mark.parametrize(
    ("order", "rows", "fact"),
    [
        (ShelfOrder.RANGE, ("F4 h, F5 h",), "12"),
        (ShelfOrder.CHROMATIC, ("F4 h, G#4 h",), "1"),
        (ShelfOrder.DENSITY, ("F4 q, G4 q, A4 q, F4 q",), "1"),
        (ShelfOrder.STRETCHES, ("F4 h, G4 h",), "in position"),
        (ShelfOrder.STRETCHES, ("F4 h, C2 h",), "1 off"),
    ],
)
def test_the_figure_that_the_shelf_is_sorted_by_stands_beside_the_title(order, rows, fact):
    assert fact in beside(order, *rows, composer="Anonymous")


def test_where_no_figure_sorts_them_it_is_who_made_the_tune():
    assert [beside(order, "F4 w", composer="Anonymous") for order in (ShelfOrder.AS_PUT, ShelfOrder.TITLE)] == [
        "Anonymous"
    ] * 2


def test_of_the_chosen_tune_its_length_and_what_it_asks_of_the_hand_are_said():
    assert details_in_words(entry("F4 h, G4 h", "A4 w"), MAP) == "2 bars in 4/4, 3 notes; all in position"


def test_a_lead_sheet_is_called_one_beside_whoever_wrote_it():
    sheet = replace(entry("C5 w"), kind=TuneKind.LEAD_SHEET)
    told = beside_title(replace(sheet, composer="Ada"), ShelfOrder.AS_PUT, MAP, {})
    assert (told, beside_title(sheet, ShelfOrder.AS_PUT, MAP, {})) == ("lead sheet, Ada", "lead sheet")
    assert "lead" not in beside_title(sheet, ShelfOrder.DENSITY, MAP, {}), "an order shows its figure"
