"""Shapes to pixels."""

import pygame
import pytest

from game.engraving.engraver import UNITS_PER_SPACE
from game.engraving.raster import Grid, SurfaceStore, line_px, snapped_top, tinted, white_from_svg, white_mask
from game.engraving.shapes import Box, Shape


def test_a_store_drops_what_was_not_asked_for_longest():
    store = SurfaceStore(3 * 400)
    for name in "abc":
        store.keep(name, pygame.Surface((10, 10), pygame.SRCALPHA))
    assert store.get("a")
    store.keep("d", pygame.Surface((10, 10), pygame.SRCALPHA))
    assert store.get("b") is None
    assert store.get("a")
    assert store.held_bytes == 1200
    store.clear()
    assert store.held_bytes == 0


def test_a_grid_puts_staff_spaces_on_pixels_and_covers_what_a_box_touches():
    grid = Grid(20, left=1.0, top=2.0)
    assert (grid.x_px(3.0), grid.y_px(1.5)) == (40.0, -10.0)
    assert grid.covering(Box(1.0, 2.0, 2.01, 3.0)) == pygame.Rect(-1, -1, 23, 22)


@pytest.mark.parametrize(("space_px", "thick"), [(5, 1), (18, 1), (20, 2), (40, 3)])
def test_a_staff_line_is_a_twelfth_of_a_space_and_never_less_than_a_pixel(space_px, thick):
    assert line_px(space_px) == thick


@pytest.mark.parametrize("space_px", [18, 20, 25, 40])
def test_the_middle_of_the_top_line_falls_on_whole_pixels(space_px):
    """Between two rows where the line has an even number of them, on a row where it has an odd one."""
    grid = Grid(space_px, 0.0, snapped_top(3.3, space_px))
    middle_px = grid.y_px(3.3)
    assert middle_px % 1 == pytest.approx(0.5 if line_px(space_px) % 2 else 0.0)


def test_a_mask_is_white_where_it_is_inked_and_clear_elsewhere():
    unit = UNITS_PER_SPACE
    square = Shape(f'<rect x="0" y="0" width="{unit}" height="{unit}"/>', Box(0, 0, 1, 1))
    white = white_mask([square], pygame.Rect(0, 0, 20, 10), Grid(10, 0.0, 0.0))
    assert white.get_size() == (20, 10)
    assert tuple(white.get_at((5, 5))) == (255, 255, 255, 255)
    assert white.get_at((15, 5)).a == 0


def test_a_tint_is_a_copy_in_a_colour():
    white = white_from_svg(
        '<svg xmlns="http://www.w3.org/2000/svg" width="4" height="4"><rect width="4" height="4"/></svg>'
    )
    assert tuple(tinted(white, (10, 20, 30)).get_at((1, 1))) == (10, 20, 30, 255)
    assert tuple(white.get_at((1, 1))) == (255, 255, 255, 255)


def test_the_newest_surface_stays_even_when_it_is_over_the_bound():
    store = SurfaceStore(100)
    store.keep("large", pygame.Surface((10, 10), pygame.SRCALPHA))
    assert store.get("large") is not None
