"""Strokes are written again as they were drawn, whatever hand drew them."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.desk.kit.pen_strokes import DOT_LENGTH, between, fewer, longer, point_count, tip, way
from tests.sampling import how_many

SIDES = ((0.0, 0.0), (3.0, 0.0), (3.0, 4.0))
DOT = ((1.0, 1.0),)
POINTS = st.tuples(st.floats(0, 8), st.floats(0, 1))
STROKES = st.lists(st.lists(POINTS, min_size=1, max_size=8).map(tuple), min_size=1, max_size=5).map(tuple)


def test_half_of_the_way_is_half_of_the_way():
    assert way((SIDES,)) == 7.0
    assert between((SIDES,), 0.0, 3 / 7) == (((0.0, 0.0), (3.0, 0.0)),)
    assert between((SIDES,), 3 / 7, 5 / 7)[0][-1] == pytest.approx((3.0, 2.0))


def test_a_dot_is_written_too_and_alone_it_is_the_whole_signature():
    assert way((DOT,)) == DOT_LENGTH
    assert between((DOT,), 0.0, 0.01) == (DOT,)
    assert between((SIDES, DOT), 0.0, 1.0) == (SIDES, DOT)
    assert tip((DOT,), 0.5) == DOT[0]


def test_of_nothing_nothing_is_written():
    assert between((), 0.0, 1.0) == ()
    assert tip((), 1.0) is None
    assert between(((),), 0.0, 1.0) == ()


def test_a_hand_that_trembles_in_one_place_adds_no_points():
    stroke = longer((), (0.5, 0.5), 0.01)
    for _ in range(1000):
        stroke = longer(stroke, (0.5001, 0.5), 0.01)
    assert stroke == ((0.5, 0.5),)
    assert point_count((longer(stroke, (0.6, 0.5), 0.01),)) == 2


def test_of_ten_thousand_points_a_few_hundred_are_drawn_with_both_ends_of_each_stroke():
    spiral = tuple((math.sin(step / 50), math.cos(step / 50)) for step in range(10_000))
    drawn = fewer((spiral, DOT), 600)
    assert point_count(drawn) <= 610
    assert (drawn[0][0], drawn[0][-1], drawn[1]) == (spiral[0], spiral[-1], DOT)
    assert fewer((SIDES,), 600) == (SIDES,)


@settings(max_examples=how_many(1000, by_default=100), deadline=None)
@given(STROKES, st.floats(0, 1))
def test_what_is_written_in_two_parts_is_all_of_it(strokes, share):
    first, rest = between(strokes, 0.0, share), between(strokes, share, 1.0)
    assert way(first) + way(rest) >= way(strokes) - 1e-6
    assert between(strokes, 0.0, 1.0)[-1][-1] == pytest.approx(strokes[-1][-1])
    assert all(math.isfinite(value) for part in (*first, *rest) for point in part for value in point)
