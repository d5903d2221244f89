"""The neck as it is drawn and played with the mouse."""

import pygame
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.desk.neck_drawing import NeckDrawing, inlays_from
from game.desk.theme import PAPER
from game.neck.hand import FrettingHand
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import TUNINGS, Place

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


@given(st.sampled_from(list(TUNINGS.values())), st.booleans(), st.integers(0, 12))
def test_each_string_of_each_instrument_is_clicked_where_it_lies(tuning, left_handed, fret):
    drawing = NeckDrawing(room=ROOM, neck_map=standard_map(tuning=tuning), left_handed=left_handed)
    for string in range(1, tuning.strings + 1):
        x, y = drawing.centre_of(Place(string, fret))
        assert drawing.place_at((round(x), round(y))) == Place(string, fret)


def test_the_dots_stay_on_the_neck_when_frets_are_counted_from_a_capo():
    """Behind a capo at II the dot of fret 5 lies at 3, the two of fret 12 at 10 (calc)."""
    assert inlays_from(0)[:3] == ((3, False), (5, False), (7, False))
    assert inlays_from(2)[:5] == ((1, False), (3, False), (5, False), (7, False), (10, True))
    assert inlays_from(5)[0] == (2, False)


@pytest.mark.parametrize("left_handed", [False, True])
def test_a_capo_is_a_bar_over_all_strings_at_the_nut(left_handed):
    pygame.font.init()
    surface = pygame.Surface((1280, 720))
    surface.fill(PAPER.paper)
    drawing = NeckDrawing(room=ROOM, neck_map=standard_map(), left_handed=left_handed, capo=2)
    drawing.draw(surface, PAPER)
    x = round(drawing.fret_x(0)) + (-3 if left_handed else 3)
    assert all(surface.get_at((x, y))[:3] == PAPER.ink for y in range(ROOM.top + 8, ROOM.bottom - 8))


@pytest.mark.parametrize("left_handed", [False, True])
def test_what_lies_under_the_fingers_is_shaded_for_this_hand_and_in_both_regions(left_handed):
    neck_map = standard_map(hand=FrettingHand(span=5), second=SecondRegion(position=12, seam=69))
    drawing = NeckDrawing(room=ROOM, neck_map=neck_map, left_handed=left_handed)
    surface = pygame.Surface((1200, 600))
    surface.fill(PAPER.paper)
    drawing.draw(surface, PAPER, numbered=False)

    def shaded(fret):
        x, y = drawing.beside(Place(3, fret))
        return surface.get_at((x, y))[:3] != PAPER.paper

    assert [fret for fret in range(1, drawing.last_fret + 1) if shaded(fret)] == [5, 6, 7, 8, 9, 12, 13, 14, 15, 16]
