"""The beat being counted stands in a ring."""

import pygame
import pytest

from game.desk.count_drawing import Count, count_px, draw_count, draw_count_row
from game.desk.theme import NIGHT, PAPER

MIDDLE = (100, 80)


@pytest.fixture
def surface():
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((200, 160))
    made = pygame.Surface((200, 160))
    made.fill(PAPER.paper)
    return made


def drawn(surface, beat, px=20, theme=PAPER, draw=draw_count):
    surface.fill(theme.paper)
    draw(surface, Count(beat, 4), MIDDLE, px, theme)
    mask = pygame.mask.from_threshold(surface, theme.paper, (6, 6, 6))
    mask.invert()
    return mask


DRAWN = pytest.mark.parametrize("draw", [draw_count, draw_count_row])


@pytest.mark.parametrize("px", [15, 20, 60])
def test_the_figure_is_in_the_middle_of_its_ring_and_as_large_as_what_the_pencil_writes(surface, px):
    mask = drawn(surface, 3, px)
    ring, *_ = sorted(mask.get_bounding_rects(), key=lambda rect: -rect.width)
    assert ring.width <= count_px(px)
    figure = mask.copy()
    inner = pygame.Mask(mask.get_size())
    inside = pygame.Rect(0, 0, round(0.9 * px), round(0.9 * px))
    inside.center = MIDDLE
    inner.draw(pygame.Mask(inside.size, fill=True), inside.topleft)
    figure = figure.overlap_mask(inner, (0, 0))
    inked = figure.get_bounding_rects()
    where = inked[0].unionall(inked[1:])
    assert where.height >= 0.6 * px
    assert abs(where.centerx - MIDDLE[0]) <= 2
    assert abs(where.centery - MIDDLE[1]) <= 2


@DRAWN
def test_the_ring_stands_still_while_figures_change(surface, draw):
    masks = [drawn(surface, beat, draw=draw) for beat in (1, 2, 3, 4)]
    boxes = [mask.get_bounding_rects() for mask in masks]
    assert len({max(rects, key=lambda rect: rect.width).topleft for rects in boxes}) == 1
    assert len({mask.count() for mask in masks}) > 1


def test_the_other_beats_of_the_bar_step_on_beside_the_ring(surface):
    sides = []
    for beat in (1, 2, 3, 4):
        rects = drawn(surface, beat, px=12, draw=draw_count_row).get_bounding_rects()
        ring = max(rects, key=lambda rect: rect.width)
        sides.append((sum(rect.right < ring.left for rect in rects), sum(rect.left > ring.right for rect in rects)))
    assert sides == [(0, 3), (1, 2), (2, 1), (3, 0)]


def test_drawn_again_and_again_it_looks_the_same(surface):
    draw_count(surface, Count(2, 4), MIDDLE, 20, NIGHT)
    before = surface.get_view("2").raw
    draw_count(surface, Count(2, 4), MIDDLE, 20, NIGHT)
    assert surface.get_view("2").raw == before
