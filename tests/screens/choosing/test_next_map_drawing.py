"""Where the choices of the next map stand."""

from game.desk.sheet import Sheet
from game.screens.choosing.next_map_drawing import row_at, row_rect


def test_a_point_in_a_row_is_that_choice_and_one_beside_them_is_none():
    for size in ((1280, 720), (960, 600), (1920, 1080)):
        sheet = Sheet(size)
        assert [row_at(sheet, row_rect(sheet, row).center, 5) for row in range(5)] == list(range(5))
        assert row_at(sheet, row_rect(sheet, 5).center, 5) is None
        assert row_at(sheet, (row_rect(sheet, 0).right + 3, row_rect(sheet, 0).centery), 5) is None
