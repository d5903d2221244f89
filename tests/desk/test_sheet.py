"""Every measure follows from the window's size."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.desk.sheet import SMALLEST, Sheet

WINDOWS = st.tuples(st.integers(SMALLEST[0], 3840), st.integers(SMALLEST[1], 2160))


def test_a_unit_is_a_pixel_in_the_window_it_was_drawn_at():
    assert Sheet((1280, 720)).px(10) == 10
    assert Sheet((2560, 1440)).px(10) == 20


def test_a_window_of_another_shape_has_more_units_on_its_longer_side():
    assert (Sheet((1280, 720)).width, Sheet((1280, 720)).height) == (1280, 720)
    assert Sheet((960, 600)).height == pytest.approx(800)
    assert Sheet((2560, 1080)).width > 1280


def test_the_narrower_side_decides():
    assert Sheet((3840, 720)).unit == Sheet((1280, 2160)).unit == 1


@given(WINDOWS)
def test_text_stands_on_the_paper_and_the_paper_on_the_desk(size):
    sheet = Sheet(size)
    assert sheet.paper.contains(sheet.text_area)
    assert sheet.paper.left > 0
    assert sheet.paper.right < size[0]
    assert sheet.paper.bottom < size[1]


@given(WINDOWS)
def test_small_print_is_never_smaller_than_fourteen_pixels(size):
    sheet = Sheet(size)
    assert 14 <= sheet.small_px <= sheet.text_px < sheet.title_px


@pytest.mark.parametrize(
    ("size", "space_px"), [((1920, 1080), 26), ((3840, 2160), 52), ((960, 600), 13), ((500, 9), 9)]
)
def test_the_staff_is_as_large_as_the_player_wants_it_at_full_height(size, space_px):
    """26 pixels between two lines at 1920x1080; nine at least, whatever the window."""
    assert Sheet(size).staff_space(26) == space_px
