"""The sheets of the book."""

from itertools import pairwise

import pygame
import pytest

from game.desk.kit.book_sheet import BOOK_SHEET, draw_book_sheet, draw_ledge, draw_waiting_sheet, sheet_colour
from game.desk.kit.canvas import Canvas
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, PAPER


@pytest.fixture(params=[PAPER, NIGHT], ids=["paper", "night"])
def canvas(request):
    surface = pygame.Surface((1280, 720))
    surface.fill(request.param.paper)
    return Canvas(surface, Sheet((1280, 720)), request.param)


def test_a_page_is_fresher_than_the_sheet_it_lies_on(canvas):
    draw_book_sheet(canvas, (100, 100))
    middle = canvas.surface.get_at((234, 209))[:3]
    assert all(abs(there - wanted) <= 3 for there, wanted in zip(middle, sheet_colour(canvas.theme), strict=True))
    assert sum(sheet_colour(canvas.theme)) > sum(canvas.theme.paper)


def test_a_page_that_waits_is_an_outline_in_dashes(canvas):
    draw_waiting_sheet(canvas, (100, 100))
    assert canvas.surface.get_at((234, 209))[:3] == canvas.theme.paper
    upper_edge = [canvas.surface.get_at((x, 100))[:3] for x in range(100, 100 + round(BOOK_SHEET[0]))]
    changes = sum(one != other for one, other in pairwise(upper_edge))
    assert changes > 20


def test_a_ledge_stands_out_from_the_paper(canvas):
    draw_ledge(canvas, 50, 600, 300)
    assert all(
        sum(
            abs(one - other) for one, other in zip(canvas.surface.get_at((300, y))[:3], canvas.theme.paper, strict=True)
        )
        > 12
        for y in (300, 305, 308)
    )
