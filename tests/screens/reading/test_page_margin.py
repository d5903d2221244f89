"""The ladder beside the music."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.screens.reading.page_layout import PageLayout
from game.screens.reading.page_margin import draw_climb
from tests.screens.reading.test_passage_climb import climb, rung


@pytest.mark.usefixtures("table")
@pytest.mark.parametrize("size", [(960, 600), (1280, 720), (3840, 2160)])
def test_ladder_and_words_stay_beside_the_music_and_above_the_keys(size):
    sheet = Sheet(size)
    canvas = Canvas(pygame.Surface(size), sheet, PAPER)
    canvas.surface.fill(PAPER.paper)
    layout = PageLayout(width=size[0] / sheet.unit, height=size[1] / sheet.unit, clocked=True, ladder=True)
    rungs = tuple(rung(bpm) for bpm in (57, 61, 65, 70, 75, 81))
    hits = draw_climb(canvas, climb(96, rungs=rungs), layout.ladder_room)
    assert [bpm for _, bpm in hits] == [57, 61, 65, 70, 75, 81, 96]
    mask = pygame.mask.from_threshold(canvas.surface, PAPER.paper, (1, 1, 1, 255))
    mask.invert()
    rects = mask.get_bounding_rects()
    drawn = rects[0].unionall(rects[1:])
    assert drawn.left >= sheet.px(layout.music_right)
    assert drawn.right <= sheet.px(layout.width - 40)
    assert drawn.bottom < sheet.px(layout.keys_middle - 14)
