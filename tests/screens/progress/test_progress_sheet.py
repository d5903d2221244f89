"""Where figures, words and the chart of progress stand."""

from datetime import date, timedelta
from itertools import pairwise

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.corner import CORNER_SIZE, corner_point
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.screens.progress.progress_chapters import Chapter, ChartDot
from game.screens.progress.progress_sheet import ProgressSheet


@pytest.fixture(params=[(960, 600), (1280, 720), (1920, 1080), (3840, 2160)], ids=str)
def sheet(request):
    pygame.display.init()
    pygame.font.init()
    surface = pygame.Surface(request.param)
    return ProgressSheet(Canvas(surface, Sheet(request.param), PAPER))


def chapter(*values, top=20.0):
    dots = tuple(ChartDot(value=value, day=date(2026, 11, 1) + timedelta(days=at)) for at, value in enumerate(values))
    return Chapter(
        title="At first sight", figure="17", unit="of 20", sentence="", dots=dots, top=top, bounds=("0", "10", "20")
    )


def test_three_figures_stand_beside_one_another(sheet):
    rects = [sheet.figure_rect(number) for number in range(3)]
    assert all(rect.collidelistall(rects) == [number] for number, rect in enumerate(rects))
    assert rects[-1].right <= sheet.canvas.sheet.size[0]


def test_a_dot_is_as_high_as_its_value_from_nothing_up(sheet):
    told = chapter(0, 5, 10, 20)
    zero, quarter, half, full = (sheet.dot_at(told, place)[1] for place in range(4))
    assert zero - quarter == pytest.approx((zero - full) / 4)
    assert zero - half == pytest.approx((zero - full) / 2)
    assert zero < corner_point(sheet.canvas)[1] - CORNER_SIZE


@pytest.mark.parametrize("count", [1, 2, 5, 24])
def test_dots_stand_in_a_row_and_on_the_paper_however_many(sheet, count):
    told = chapter(*([10] * count))
    xs = [sheet.dot_at(told, place)[0] for place in range(count)]
    assert all(other - x >= 27 for x, other in pairwise(xs))
    assert xs[-1] <= sheet.canvas.sheet.size[0] / sheet.canvas.sheet.unit - 68
    sheet.draw_chart(told)
