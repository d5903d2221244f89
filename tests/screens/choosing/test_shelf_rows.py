"""The rows of the shelf as they are drawn: whatever the title, nothing runs into anything else."""

from dataclasses import replace

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.small_page import PageMark
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, PAPER
from game.screens.choosing.shelf_layout import ShelfLayout
from game.screens.choosing.shelf_rows import ShelfRow, draw_legend, draw_row, is_cut
from game.tunes.library.library import shipped_entries
from tests.speaking import speaking

LONG = "The Long Way Home by Way of Everything that Ever Had a Name, in Two Parts with a Coda, as Played at Harvest"


def drawn(row, size=(960, 600), theme=PAPER):
    pygame.font.init()
    surface = pygame.Surface(size)
    surface.fill(theme.paper)
    canvas = Canvas(surface, Sheet(size), theme)
    draw_row(canvas, ShelfLayout(canvas.sheet), row)
    return canvas


def inked(canvas, left, right):
    """Whether anything stands between these two, in units."""
    area = canvas.rect(left, 0, right - left, canvas.sheet.size[1] / canvas.sheet.unit)
    part = canvas.surface.subsurface(area)
    mask = pygame.mask.from_threshold(part, canvas.theme.paper, (2, 2, 2, 255))
    return mask.count() < area.width * area.height


@pytest.mark.parametrize("title", [LONG, "", "W" * 120, "Ahornstraße"])
@pytest.mark.parametrize("theme", [PAPER, NIGHT], ids=["paper", "night"])
def test_the_longest_title_leaves_the_column_of_keys_free(title, theme):
    row = ShelfRow(row=0, entry=replace(shipped_entries()[0], title=title, key=""), beside=LONG, chosen=True, new=True)
    canvas = drawn(row, theme=theme)
    layout = ShelfLayout(canvas.sheet)
    assert not inked(canvas, layout.keys_middle - 38, layout.right)


def test_only_a_title_that_has_no_room_is_cut(table):
    canvas = Canvas(table.app.surface, table.context.sheet, table.context.theme)
    layout = ShelfLayout(canvas.sheet)
    assert [is_cut(canvas, layout, title) for title in (LONG, "Ode to Joy", "")] == [True, False, False]


@pytest.mark.parametrize("count", [0, 1, 8, 9, 40, 250])
def test_one_page_or_forty_end_before_the_legend(count):
    row = ShelfRow(
        row=0,
        entry=replace(shipped_entries()[0], key=""),
        beside="",
        pages=(PageMark.FOUND,) * count,
        at=count // 2,
        chosen=True,
    )
    canvas = drawn(row)
    layout = ShelfLayout(canvas.sheet)
    assert inked(canvas, layout.pages_left - 3, layout.legend_left - 6) is bool(count)
    assert not inked(canvas, layout.legend_left - 6, layout.right)


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_legend_ends_before_the_margin(language):
    pygame.font.init()
    surface = pygame.Surface((960, 600))
    surface.fill(PAPER.paper)
    canvas = Canvas(surface, Sheet((960, 600)), PAPER)
    layout = ShelfLayout(canvas.sheet)
    with speaking(language):
        draw_legend(canvas, layout)
    assert inked(canvas, layout.legend_left, layout.right)
    assert not inked(canvas, layout.right + 2, layout.right + 30)
