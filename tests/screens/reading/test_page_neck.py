"""The neck below the music: what was found, what is pressed, where the teacher points."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.neck_drawing import NeckDrawing
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.screens.reading.page_neck import OnNeck, draw_page_neck

PLACE = Place(3, 7)
RIGHT = 900.0


def drawn_on(table, on_neck):
    """A neck, and where something is drawn that is not there on a bare one."""
    surface, theme = table.app.surface, table.context.theme
    neck = NeckDrawing(room=pygame.Rect(100, 300, 800, 160), neck_map=standard_map(position=5))
    canvas = Canvas(surface, table.context.sheet, theme)
    surface.fill(theme.paper)
    draw_page_neck(canvas, neck, OnNeck(), RIGHT)
    before = surface.copy()
    surface.fill(theme.paper)
    draw_page_neck(canvas, neck, on_neck, RIGHT)
    mask = pygame.mask.from_threshold(surface, (0, 0, 0), (2, 2, 2, 255), before)
    mask.invert()
    rects = mask.get_bounding_rects()
    return neck, rects[0].unionall(rects[1:])


@pytest.mark.parametrize("on_neck", [OnNeck(found=frozenset({PLACE})), OnNeck(pressed=PLACE)])
def test_what_was_found_or_is_pressed_stands_at_its_place_and_nowhere_else(table, on_neck):
    neck, drawn = drawn_on(table, on_neck)
    assert drawn.collidepoint(neck.centre_of(PLACE))
    assert neck.place_at(drawn.center) == PLACE
    assert drawn.width < 60


def test_where_the_teacher_points_there_is_a_word_above_the_neck(table):
    neck, drawn = drawn_on(table, OnNeck(shows=PLACE))
    assert drawn.top < neck.room.top
    assert drawn.bottom > neck.centre_of(PLACE)[1]


def test_the_word_stays_left_of_the_margin_where_the_place_is_at_its_edge(table):
    _, drawn = drawn_on(table, OnNeck(shows=Place(1, 12)))
    assert drawn.right <= table.context.sheet.px(RIGHT)
