"""The desk and its sheets."""

import pygame
import pytest

from game.desk.kit.ground import READING_TOP, TABBED_TOP, draw_ground, draw_sheet, ground, paper_rect


@pytest.mark.parametrize("top", [READING_TOP, TABBED_TOP])
def test_paper_lies_on_the_desk_and_the_next_sheet_shows_below_it(canvas, theme, top):
    draw_ground(canvas, top)
    paper = paper_rect(canvas.sheet, top)

    def near(at, colour):
        return all(abs(a - b) <= 14 for a, b in zip(canvas.surface.get_at(at)[:3], colour, strict=True))

    assert near(paper.center, theme.paper)
    assert near((paper.left + 4, paper.top + 4), theme.paper)
    strip = {
        tuple(canvas.surface.get_at((paper.centerx, y))[:3]) for y in range(paper.bottom, paper.bottom + canvas.px(8))
    }
    assert len(strip) > 2
    assert near((canvas.px(640), 2), theme.desk) or near((canvas.px(640), canvas.sheet.size[1] - 2), theme.desk)


def test_the_ground_of_a_window_is_painted_once(size, theme):
    assert ground(size, theme, READING_TOP) is ground(size, theme, READING_TOP)
    ground.cache_clear()


def test_the_ground_is_the_same_on_every_start(theme):
    first = pygame.image.tobytes(ground((960, 600), theme, READING_TOP), "RGB")
    ground.cache_clear()
    assert pygame.image.tobytes(ground((960, 600), theme, READING_TOP), "RGB") == first


def test_paper_has_grain_and_stays_within_three_steps_of_its_colour(canvas, theme):
    rect = canvas.rect(100, 100, 200, 200)
    draw_sheet(canvas, rect, theme.paper, blur=0)
    seen = {tuple(canvas.surface.get_at((x, rect.centery))[:3]) for x in range(rect.left, rect.right)}
    assert len(seen) > 1
    assert all(max(abs(a - b) for a, b in zip(colour, theme.paper, strict=True)) <= 3 for colour in seen)
