"""The three places of the programme as they are drawn."""

from dataclasses import replace

import pygame
import pytest

from game.desk.kit.small_page import PageMark
from game.screens.choosing.programme_rows import ProgrammeRow, draw_programme, row_at
from tests.sampling import sample
from tests.screens.table import Table
from tests.speaking import speaking

LONG = "A Title That Goes On, and On, through Every Part of the Country It Was Ever Sung in, and Home Again by Night"


@pytest.mark.parametrize("language", sample(["en", "de"], by_default=1))
@pytest.mark.parametrize("count", sample([0, 1, 40, 250], by_default=1))
def test_the_longest_title_and_any_number_of_pages_stay_on_the_paper(tmp_path, language, count):
    table = Table(tmp_path, size=(960, 600))
    surface = pygame.Surface((960, 600))
    surface.fill(table.context.theme.paper)
    row = ProgrammeRow(number=0, title=LONG, pages=(PageMark.FOUND,) * count, played=True, chosen=True)
    with speaking(language):
        draw_programme(table.context, surface, LONG, [replace(row, number=number) for number in range(3)])
    mask = pygame.mask.from_threshold(surface, table.context.theme.paper, (3, 3, 3, 255))
    mask.invert()
    assert max(box.right for box in mask.get_bounding_rects()) <= table.context.sheet.px(1280 - 68) + 2


def test_each_place_is_clicked_where_it_is_drawn(table):
    sheet = table.context.sheet
    for number in range(3):
        for down in (-20, 0, 40):
            assert row_at(sheet, (sheet.px(200), sheet.px(212 + 128 * number + down))) == number
    assert row_at(sheet, (sheet.px(200), sheet.px(100))) is None
    assert row_at(sheet, (sheet.px(200), sheet.px(650))) is None
