"""Where the pages of the book stand."""

import pytest

from game.desk.kit.book_sheet import BOOK_SHEET
from game.desk.sheet import Sheet
from game.screens.progress.book_layout import STEP, BookLayout

SIZES = [(960, 600), (1280, 720), (1280, 1024), (2560, 1080), (3840, 2160)]


@pytest.mark.parametrize("size", SIZES)
def test_every_page_is_clicked_where_it_stands_and_the_gaps_are_nobodys(size):
    sheet = Sheet(size)
    layout = BookLayout(sheet)
    for number in range(layout.columns * layout.ledges):
        x, y = layout.place(number)
        assert layout.number_at((sheet.px(x + 4), sheet.px(y + 4))) == number
        assert layout.number_at((sheet.px(x + BOOK_SHEET[0] - 4), sheet.px(y + BOOK_SHEET[1] - 4))) == number
        assert layout.number_at((sheet.px(x + BOOK_SHEET[0] + 8), sheet.px(y + 50))) is None
        assert x + BOOK_SHEET[0] <= layout.right
        assert y + BOOK_SHEET[1] + 9 < layout.height - 26 - 49 - 18


def test_two_ledges_of_four_pages_stand_in_a_window_as_it_opens():
    layout = BookLayout(Sheet((1280, 720)))
    assert (layout.columns, layout.ledges, layout.key_rows) == (4, 2, 1)
    assert STEP[0] > BOOK_SHEET[0]


def test_the_chosen_page_is_in_sight_and_rows_stay_whole():
    layout = BookLayout(Sheet((1280, 720)))
    assert layout.in_sight(0, 3) == range(3)
    assert layout.in_sight(0, 100) == range(8)
    assert layout.in_sight(99, 100) == range(92, 100)
    for chosen in range(100):
        shown = layout.in_sight(chosen, 100)
        assert chosen in shown
        assert shown.start % 4 == 0
