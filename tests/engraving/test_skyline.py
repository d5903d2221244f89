"""The upper edge of what stands above a staff."""

from hypothesis import given
from hypothesis import strategies as st

from game.engraving.shapes import Box
from game.engraving.skyline import Skyline
from tests.engraving.touching import touch

ALONG = st.floats(0, 40, allow_nan=False)
WIDTH = st.floats(0.01, 9, allow_nan=False)
HEIGHT = st.floats(-20, 4, allow_nan=False)


def test_where_nothing_stands_the_edge_is_the_floor():
    assert Skyline(0.0, 40.0, 5.0).top_over(3.0, 9.0) == 5.0


@given(boxes=st.lists(st.tuples(ALONG, WIDTH, HEIGHT), max_size=12), left=ALONG, width=WIDTH)
def test_what_is_put_on_top_touches_nothing_below(boxes, left, width):
    skyline = Skyline(0.0, 40.0, 5.0)
    stood = [Box(x, top, x + wide, 5.0) for x, wide, top in boxes]
    skyline.add(stood)
    new = Box(left, skyline.top_over(left, left + width) - 1.0, left + width, skyline.top_over(left, left + width))
    assert not any(touch(new, box) for box in stood)


def test_what_stands_beside_is_not_in_the_way():
    skyline = Skyline(0.0, 40.0, 5.0)
    skyline.add([Box(10.0, -3.0, 12.0, 5.0)])
    assert skyline.top_over(13.0, 20.0) == 5.0
    assert skyline.top_over(11.0, 20.0) == -3.0


def test_what_lies_beyond_the_ends_counts_in_the_outermost_column():
    skyline = Skyline(0.0, 40.0, 5.0)
    skyline.add([Box(45.0, -3.0, 50.0, 5.0), Box(-9.0, -2.0, -8.0, 5.0)])
    assert skyline.top_over(60.0, 61.0) == -3.0
    assert skyline.top_over(-5.0, -4.0) == -2.0
