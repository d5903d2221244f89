"""Where things stand on the shelf, and what a click on them meets."""

import pytest

from game.desk.sheet import Sheet
from game.screens.choosing.shelf_layout import MOST_PAGES, TITLE_LEFT, ShelfLayout, pages_in_sight

SIZES = [(960, 600), (1280, 720), (1920, 1080), (3840, 2160)]


@pytest.mark.parametrize("size", SIZES)
def test_every_row_and_page_is_clicked_where_it_is_drawn(size):
    sheet = Sheet(size)
    layout = ShelfLayout(sheet)
    for row in range(layout.rows):
        assert layout.spot((sheet.px(TITLE_LEFT), sheet.px(layout.baseline(row) - 5))) == (row, None)
        for number in range(MOST_PAGES):
            left, top = layout.page_at(row, number)
            assert layout.spot((sheet.px(left + 11), sheet.px(top + 15))) == (row, number)


@pytest.mark.parametrize("size", SIZES)
def test_a_click_beside_the_rows_meets_none(size):
    sheet = Sheet(size)
    layout = ShelfLayout(sheet)
    assert layout.spot((sheet.px(200), sheet.px(100))) is None
    assert layout.spot((sheet.px(200), sheet.px(layout.details))) is None
    assert layout.spot((sheet.px(layout.legend_left), sheet.px(layout.baseline(0)))) is None


def test_a_higher_window_has_more_rows():
    assert ShelfLayout(Sheet((960, 600))).rows > ShelfLayout(Sheet((1280, 720))).rows >= 8


def test_of_many_pages_those_around_the_one_to_open_are_in_sight():
    assert pages_in_sight(MOST_PAGES, 3) == range(MOST_PAGES)
    assert pages_in_sight(40, 0) == range(7)
    assert pages_in_sight(40, 39) == range(33, 40)
    assert all(at in pages_in_sight(40, at) for at in range(40))
