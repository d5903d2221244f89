"""What the shelf says of its order, its search and its tunes."""

import pytest

from game.neck.neck_map import standard_map
from game.screens.choosing.shelf_words import facts_in_words, order_in_words, search_in_words
from game.tunes.library.library import entry_of
from game.tunes.library.shelf_order import ShelfOrder
from tests.made import score

MAP = standard_map(position=5)


def entry(*rows, key=0):
    return entry_of(score(*rows, key=key), name="a", file_name="a.musicxml")


def facts(order, *rows, key=0):
    return facts_in_words(entry(*rows, key=key), order, MAP, {})


def test_only_an_order_that_was_chosen_is_told():
    assert order_in_words(ShelfOrder.AS_PUT) == ""
    told = [order_in_words(order) for order in ShelfOrder if order is not ShelfOrder.AS_PUT]
    assert all(told)
    assert len(set(told)) == len(told)


def test_a_search_tells_its_words_and_how_many_were_found():
    assert search_in_words("ford", 3, typing=True) == search_in_words("ford", 3, typing=False)
    assert "ford" in search_in_words("ford", 3, typing=False)
    assert "3" in search_in_words("ford", 3, typing=False)


def test_while_nothing_is_typed_yet_it_invites_to():
    assert search_in_words("", 30, typing=True)
    assert search_in_words("", 30, typing=False) == ""


def test_a_tune_tells_its_key_with_musical_signs_and_its_length():
    assert facts(ShelfOrder.AS_PUT, "Bb4 w", "F4 w", key=-2) == "B♭, 2 bars"


@pytest.mark.parametrize(
    ("order", "rows", "fact"),
    [
        (ShelfOrder.RANGE, ("F4 h, F5 h",), "12"),
        (ShelfOrder.CHROMATIC, ("F4 h, G#4 h",), "1"),
        (ShelfOrder.DENSITY, ("F4 q, G4 q, A4 q, F4 q",), "1"),
        (ShelfOrder.STRETCHES, ("F4 h, G4 h",), "in position"),
    ],
)
def test_the_figure_that_the_shelf_is_sorted_by_stands_beside(order, rows, fact):
    told = facts(order, *rows)
    assert told.startswith(facts(ShelfOrder.AS_PUT, *rows))
    assert fact in told.removeprefix(facts(ShelfOrder.AS_PUT, *rows))


def test_what_lies_off_the_map_is_counted():
    assert "1" in facts(ShelfOrder.STRETCHES, "F4 h, C2 h").removeprefix(facts(ShelfOrder.AS_PUT, "F4 h, C2 h"))
