"""A line that lies face down."""

from dataclasses import replace

import pygame
import pytest

from game.desk.kit.face_down import draw_face_down
from game.desk.theme import PAPER


def test_the_slip_lies_in_its_room_but_for_its_askew_edges_and_shadow(canvas, drawn):
    hit = draw_face_down(canvas, (300, 200, 300, 108), "An unseen line", "face down: it counts once", "F")
    assert hit == canvas.rect(300, 200, 300, 108)
    assert hit.inflate(canvas.px(70), canvas.px(70)).contains(drawn(canvas))


@pytest.mark.parametrize("theme", [PAPER], ids=["paper"])
def test_its_edges_are_not_level(canvas):
    rect = draw_face_down(canvas, (300, 200, 300, 108), "", "")
    mask = pygame.mask.from_threshold(canvas.surface, canvas.theme.paper, (25, 25, 25, 255))
    columns = (rect.left + canvas.px(8), rect.right - canvas.px(8))
    tops = [next(y for y in range(rect.top - 40, rect.bottom) if not mask.get_at((x, y))) for x in columns]
    assert tops[0] > tops[1]


def test_a_long_title_is_set_smaller_and_ends_before_the_edge(canvas):
    """The German one, on the narrower slip."""
    plain = canvas.surface.copy()
    draw_face_down(replace(canvas, surface=plain), (300, 200, 280, 104), "", "")
    draw_face_down(canvas, (300, 200, 280, 104), "Eine ungesehene Zeile", "")
    mask = pygame.mask.from_threshold(canvas.surface, (0, 0, 0), (1, 1, 1, 255), plain)
    mask.invert()
    boxes = mask.get_bounding_rects()
    assert boxes[0].unionall(boxes[1:]).right <= canvas.px(300 + 280 - 14)
