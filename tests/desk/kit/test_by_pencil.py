"""Strokes and words of the pencil."""

import pygame

from game.desk.kit.by_pencil import draw_pencil, draw_ring, draw_tick, pencil_words
from game.desk.kit.canvas import Style
from game.desk.typography import Face


def columns_with_ink(canvas, y):
    paper = canvas.theme.paper
    band = range(canvas.px(y - 4), canvas.px(y + 4))
    return [
        any(tuple(canvas.surface.get_at((x, row))[:3]) != paper for row in band)
        for x in range(canvas.px(100), canvas.px(300))
    ]


def test_a_stroke_goes_from_place_to_place_and_a_dashed_one_has_gaps(canvas):
    draw_pencil(canvas, [(100, 100), (300, 100)], 3, canvas.theme.pencil, 1)
    draw_pencil(canvas, [(100, 200), (300, 200)], 3, canvas.theme.pencil, 1, dashes=(12, 8))
    assert all(columns_with_ink(canvas, 100))
    dashed = columns_with_ink(canvas, 200)
    assert any(dashed)
    assert not all(dashed)


def test_a_ring_is_round_its_middle_and_open_inside(canvas, drawn):
    draw_ring(canvas, (200, 200), 60, 3, canvas.theme.pencil, 1)
    box, middle = drawn(canvas), canvas.point((200, 200))
    assert abs(box.centerx - middle[0]) <= canvas.px(4) + 1
    assert tuple(canvas.surface.get_at(middle)[:3]) == canvas.theme.paper


def test_a_tick_is_about_as_high_as_asked(canvas, drawn):
    draw_tick(canvas, (200, 200), 40, canvas.theme.read, 1)
    assert canvas.px(25) <= drawn(canvas).height <= canvas.px(52)


def test_words_in_pencil_stand_where_they_are_put(canvas):
    rect = pencil_words(canvas, "own pace 58", (200, 200), Style(Face.ITALIC, 24, canvas.theme.pencil))
    assert rect.left == canvas.px(200)
    assert isinstance(rect, pygame.Rect)
