"""The size of what the pencil writes, and how many rows of it there is room for."""

import pytest

from game.desk.mark_lanes import MOST_ROWS, LaneType
from game.desk.sheet import SMALLEST, Sheet


def test_marks_grow_with_the_staff_and_are_never_under_the_smallest_size():
    assert LaneType.of(40, 20).px > LaneType.of(20, 20).px >= 20
    assert LaneType.of(9, 20).px == 20


@pytest.mark.parametrize(("size", "px"), [((1280, 720), 20), (SMALLEST, 15), ((1920, 1080), 30), ((3840, 2160), 60)])
def test_nothing_is_pencilled_under_twenty_units(size, px):
    assert Sheet(size).mark_px == px


def test_as_many_rows_fit_as_their_height_says_but_one_at_least_and_not_too_many():
    lane = LaneType(20)
    for rows in range(1, MOST_ROWS + 1):
        assert lane.rows_in(lane.height_px(rows)) == rows
        assert lane.rows_in(lane.height_px(rows + 1) - 1) == rows
    assert lane.rows_in(0) == 1
    assert lane.rows_in(10_000) == MOST_ROWS
    assert lane.height_px(0) == 0
