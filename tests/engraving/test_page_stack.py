"""How systems stand one under the other."""

from itertools import pairwise

import pytest

from game.engraving.page_stack import bands, staff_tops
from game.engraving.shapes import Box, Shape, System


def system(top, bottom):
    """A staff from 0 to 4 with print from `top` to `bottom`."""
    return System(top_line=0.0, right=40.0, ground=[Shape("", Box(0.0, top, 1.0, bottom))])


def test_all_staves_are_equally_far_apart_and_no_print_of_one_reaches_the_next():
    systems = [system(-2.0, 5.0), system(-9.0, 4.0), system(-1.0, 11.0), system(0.0, 4.0)]
    tops = staff_tops(systems, [0.0] * 4)
    distances = {round(after - before, 6) for before, after in pairwise(tops)}
    assert len(distances) == 1
    for (before, one), (after, other) in pairwise(zip(tops, systems, strict=True)):
        assert before + one.extent.bottom < after + other.extent.top


def test_room_that_is_asked_for_below_a_system_stays_free():
    systems = [system(-2.0, 5.0)] * 2
    first, second = staff_tops(systems, [6.0, 0.0])
    assert second - 2.0 >= first + 5.0 + 6.0


def test_bands_share_the_page_without_a_gap_and_hold_their_print():
    systems = [system(-2.0, 5.0), system(-9.0, 4.0)]
    tops = staff_tops(systems, [0.0, 2.0])
    edges = bands(systems, tops, [0.0, 2.0])
    assert edges[0] == 0.0
    for (start, end), top, one in zip(pairwise(edges), tops, systems, strict=True):
        assert start <= top + one.extent.top
        assert top + one.extent.bottom <= end
    assert edges[-1] == pytest.approx(tops[-1] + 4.0 + 2.0 + 0.5)
