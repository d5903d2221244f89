"""A slip of paper over music."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.cover import draw_cover
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, PAPER


@pytest.mark.parametrize("theme", [PAPER, NIGHT])
def test_nothing_is_seen_through_it_and_what_lies_farther_away_is_as_it_was(theme):
    canvas = Canvas(pygame.Surface((400, 300)), Sheet((960, 600)), theme)
    canvas.surface.fill(theme.ink)
    rect = pygame.Rect(100, 100, 120, 60)
    draw_cover(canvas, rect)
    paper = pygame.mask.from_threshold(canvas.surface, theme.paper, (60, 60, 60, 255))
    assert paper.count() == rect.width * rect.height
    assert paper.get_bounding_rects() == [rect]
    assert canvas.surface.get_at((40, 40))[:3] == theme.ink
