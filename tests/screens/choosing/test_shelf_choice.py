"""Which page of a tune would be opened, and the row in which it stands."""

import pytest

from game.screens.choosing.shelf_choice import ShelfChoice
from game.screens.choosing.shelf_list import ShelfList
from game.screens.choosing.shelf_pages import ShelfPages
from tests.screens.choosing.signed_tunes import sign_pages


@pytest.fixture
def choice(table):
    """On a shelf whose second tune has one signed page."""
    shelf_list, pages = ShelfList(table.context), ShelfPages(table.context)
    sign_pages(table, shelf_list.entries[1], pages=1)
    pages.look_up(shelf_list.entries[:3])
    return ShelfChoice(shelf_list, pages)


def test_a_tune_goes_on_behind_its_signed_pages(choice):
    assert [choice.page_of(entry) for entry in choice._list.entries[:3]] == [0, 1, 0]


def test_a_page_that_is_picked_is_that_of_the_chosen_tune_and_the_ends_stop(choice):
    first, second = choice._list.entries[:2]
    choice._list.move(1)
    choice.pick_next(1)
    assert (choice.page_of(second), choice.page_of(first)) == (2, 0)
    choice.pick_next(100)
    last = choice.page_of(second)
    assert last == len(choice._pages.at_once(second).pages) - 1
    choice.pick_next(-100)
    assert choice.page_of(second) == 0
    choice.forget()
    assert choice.page_of(second) == 1


def test_its_row_shows_the_pages_and_which_would_be_opened(choice, table):
    neck_map = table.context.settings.neck_map()
    row = choice.row(2, choice._list.entries[1], neck_map)
    assert (row.row, row.at, row.chosen) == (2, 1, False)
    assert len(row.pages) == len(choice._pages.at_once(row.entry).pages)
    assert choice.row(0, choice._list.entries[0], neck_map).chosen
    assert choice.row(5, choice._list.entries[5], neck_map).pages == (), "not looked up yet"
