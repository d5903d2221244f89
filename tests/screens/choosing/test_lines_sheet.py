"""Where things stand in the folder of unseen lines."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.corner import CORNER_SIZE, corner_point
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT
from game.screens.choosing import lines_sheet
from game.screens.choosing.lines_sheet import ChoiceText, LinesSheet, ReadText

LEVEL = ChoiceText(name="level", value="1, five notes", below="It is that of the next lines.")


@pytest.fixture(params=[(960, 600), (1280, 720), (1920, 1200), (3840, 2160)], ids=str)
def sheet(request):
    pygame.display.init()
    pygame.font.init()
    surface = pygame.Surface(request.param)
    return LinesSheet(Canvas(surface, Sheet(request.param), NIGHT))


def test_eight_of_the_last_lines_at_least_stand_above_the_corner(sheet):
    assert sheet.list_rows >= 8
    lowest = lines_sheet._LIST_TOP + (sheet.list_rows - 1) * lines_sheet._LIST_STEP
    assert lowest <= corner_point(sheet.canvas)[1] - CORNER_SIZE - 4


def test_a_click_means_a_step_only_at_the_value_of_its_row(sheet):
    unit = sheet.canvas.sheet.unit
    left = sheet._value_left(LEVEL)

    def step(row, x, y):
        return sheet.step_at(row, LEVEL, (round(x * unit), round(y * unit)))

    assert [step(0, x, 400) for x in (100, left - 22, left + 5, 595, 660)] == [0, -1, 1, 1, 0]
    assert step(1, left + 5, 400) == 0
    assert step(1, left + 5, 488) == 1


def test_the_more_was_right_the_longer_is_the_ink(sheet):
    def inked(share):
        surface = pygame.Surface(sheet.canvas.sheet.size)
        LinesSheet(Canvas(surface, sheet.canvas.sheet, NIGHT)).draw_read(
            "", (ReadText(name="level 1, in F", right="17 of 20", share=share),), ""
        )
        return pygame.mask.from_threshold(surface, NIGHT.read, (9, 9, 9, 255)).count()

    assert inked(0.0) == 0 < inked(0.3) < inked(0.9)
