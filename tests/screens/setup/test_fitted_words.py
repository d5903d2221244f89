"""Sentences in a column are set smaller before any is left out, and the first is never."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas, Style
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.desk.typography import Face
from game.screens.setup.fitted_words import draw_fitted_words

TOLD = [
    (f"{number}: a sentence that takes two lines or even three of them", Style(Face.TEXT, 24, PAPER.ink))
    for number in range(4)
]


@pytest.fixture
def canvas():
    pygame.font.init()
    surface = pygame.Surface((1280, 720))
    surface.fill(PAPER.paper)
    return Canvas(surface, Sheet((1280, 720)), PAPER)


def lowest_ink(canvas):
    """The lowest row on which anything stands, in pixels."""
    pixels = pygame.PixelArray(canvas.surface)
    paper = canvas.surface.map_rgb(PAPER.paper)
    rows = [y for y in range(720) if any(pixels[x, y] != paper for x in range(100, 400, 2))]
    pixels.close()
    return max(rows)


@pytest.mark.parametrize("bottom", [160, 200, 240, 300, 420])
def test_whatever_room_there_is_nothing_stands_below_it(canvas, bottom):
    draw_fitted_words(canvas, TOLD, (100, 100), 280, bottom)
    # What hangs below a baseline is a quarter of the size (Vollkorn's descent).
    assert lowest_ink(canvas) <= bottom + 8


def test_more_room_holds_more_and_the_first_sentence_always_stands(canvas):
    ends = [draw_fitted_words(canvas, TOLD, (100, 100), 280, bottom) for bottom in (100, 200, 300, 500)]
    assert ends == sorted(ends)
    assert ends[0] > 100


def test_nothing_to_say_takes_no_room(canvas):
    assert draw_fitted_words(canvas, [], (100, 100), 280, 300) == 100
