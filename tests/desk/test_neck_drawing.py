"""The neck as it is drawn and played with the mouse."""

import pygame
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.desk.neck_drawing import NeckDrawing
from game.neck.neck_map import standard_map
from game.neck.tuning import Place

ROOM = pygame.Rect(50, 400, 1100, 150)


def neck(*, left_handed=False, position=5):
    return NeckDrawing(room=ROOM, neck_map=standard_map(position=position), left_handed=left_handed)


@given(st.booleans(), st.integers(1, 19), st.integers(1, 6), st.integers(0, 22))
def test_a_click_on_the_middle_of_a_place_is_that_place(left_handed, position, string, fret):
    drawing = neck(left_handed=left_handed, position=position)
    place = Place(string, min(fret, drawing.last_fret))
    x, y = drawing.centre_of(place)
    assert drawing.place_at((round(x), round(y))) == place


def test_string_1_is_on_top_and_the_nut_at_the_left():
    """As in a chord chart (trade)."""
    drawing = neck()
    assert drawing.string_y(1) < drawing.string_y(6)
    assert drawing.fret_x(0) < drawing.fret_x(1)


def test_left_handed_mirrors_the_neck():
    drawing = neck(left_handed=True)
    assert drawing.fret_x(0) > drawing.fret_x(1)
    assert drawing.string_y(1) < drawing.string_y(6)


def test_a_click_beside_the_neck_is_no_place():
    assert neck().place_at((10, 10)) is None


@pytest.mark.parametrize(("fret", "mm"), [(1, 36.369), (5, 162.549), (7, 215.512), (12, 324.0)])
def test_frets_stand_where_they_stand_on_a_guitar(fret, mm):
    """Equal temperament on a scale of 648 mm (calculated); ratios to the twelfth fret."""
    drawing = neck()
    along = (drawing.fret_x(fret) - drawing.fret_x(0)) / (drawing.fret_x(12) - drawing.fret_x(0))
    assert along == pytest.approx(mm / 324.0, abs=1e-5)


def test_every_home_of_the_position_can_be_clicked():
    for position in range(1, 16):
        drawing = neck(position=position)
        assert all(home.place.fret <= drawing.last_fret for home in drawing.neck_map.homes)
