"""The picture of Today: nothing runs into anything, in every size and language."""

from dataclasses import replace

import msgspec
import pygame
import pytest

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.key_rows import ROW_HEIGHT
from game.desk.sheet import Sheet
from game.desk.typography import Face
from game.screens.choosing.today_drawing import LEFT, ROWS_RIGHT, TodayDrawing
from game.screens.choosing.today_sheet import RowState, TodayRow
from game.screens.choosing.today_words import today_sheet
from game.text.catalogue import catalogue_in, choose
from tests.sampling import sample
from tests.screens.table import Table

SIZES = [(960, 600), (1280, 720), (1920, 1080), (3840, 2160)]
LONG = (
    "The Very Long and Winding Air of the Three Ravens and of the Old Grey Mare that Went to the Mill by Night"
    + "x" * 15
)


def rows(count, title="A tune"):
    made = (
        TodayRow(title=title, bars=", bars 9–12", below=LONG, minutes="12 min left", corner="Go on")
        for _ in range(count)
    )
    return tuple(msgspec.structs.replace(row, state=list(RowState)[at % 4]) for at, row in enumerate(made))


def drawing(table, size, **changes):
    surface = pygame.Surface(size)
    surface.fill(table.context.theme.paper)
    canvas = Canvas(surface, Sheet(size), table.context.theme)
    return TodayDrawing(canvas, msgspec.structs.replace(today_sheet(table.context), **changes), 0)


@pytest.fixture(params=["en", "de"])
def table(tmp_path, request):
    choose(catalogue_in(request.param))
    return Table(tmp_path)


@pytest.mark.parametrize("size", sample(SIZES, by_default=1))
@pytest.mark.parametrize("count", sample([1, 3, 5, 6, 7, 9, 16], by_default=2))
def test_the_left_column_ends_before_the_right_one_and_above_the_keys(table, size, count):
    page = drawing(table, size, rows=rows(count, LONG), aim=LONG, remark=(LONG,), consequence=LONG)
    page.draw_left()
    canvas = page.canvas
    left = canvas.surface.subsurface((0, 0, canvas.px(ROWS_RIGHT + 16), size[1]))
    mask = pygame.mask.from_threshold(left, canvas.theme.paper, (1, 1, 1, 255))
    mask.invert()
    boxes = mask.get_bounding_rects()
    drawn = boxes[0].unionall(boxes[1:])
    assert drawn.left >= canvas.px(LEFT - 12)
    assert drawn.right <= canvas.px(ROWS_RIGHT + 8)
    assert drawn.bottom <= size[1] - canvas.px(68)


def test_with_a_guitar_the_left_column_ends_above_the_row_for_its_free_string(table):
    feet = []
    for hands in (False, True):
        page = replace(drawing(table, (1280, 720), rows=rows(6, LONG), remark=(LONG,)), hands=hands)
        page.draw_left()
        feet.append(page._remark_top)
    assert feet[0] - feet[1] == ROW_HEIGHT


@pytest.mark.parametrize("size", sample(SIZES[:2], by_default=1))
def test_what_the_corner_leads_to_ends_before_the_slip(table, size):
    page = drawing(table, size, rows=rows(1, LONG), unseen=("An unseen line", "face down"))
    width = page.canvas.width_of(page.above_corner(page.sheet.rows[0]), Style(Face.ITALIC, 21, (0, 0, 0)))
    assert 0 < width <= 196 + page._right - 1212 + 1


def test_of_a_title_that_is_too_long_the_bars_are_never_cut(table, monkeypatch):
    page = drawing(table, (1280, 720), rows=rows(1, LONG))
    written = []
    monkeypatch.setattr(Canvas, "write", lambda _, text, *_where: written.append(text) or pygame.Rect(0, 0, 9, 9))
    page._draw_row(page.sheet.rows[0], page.rows[0])
    assert written[1].endswith("…")
    assert written[2] == ", bars 9–12"


def test_each_row_is_found_under_the_pixels_it_is_drawn_on(table):
    page = drawing(table, (1280, 720), rows=rows(5))
    assert [page.row_at((300, round(place.top + 10))) for place in page.rows] == [0, 1, 2, 3, 4]
    assert page.row_at((300, 100)) is None
    assert page.row_at((900, 300)) is None


@pytest.mark.parametrize("size", sample(SIZES[:2], by_default=1))
def test_a_line_below_a_row_that_has_no_room_is_told_in_fewer_words_and_not_cut(table, size, drawn):
    row = msgspec.structs.replace(rows(1)[0], below=LONG, shorter=(LONG[:90], "two maps, by turns", "maps"))
    drawing(table, size, rows=(row,)).draw_left()
    assert "two maps, by turns" in drawn.whole
    assert "maps" not in drawn.whole


@pytest.mark.parametrize("size", sample([(1280, 720), (960, 600)], by_default=1))
def test_how_it_goes_makes_room_for_assignments_and_for_nothing_else(table, size):
    how_it_goes = ("A note found quickly on two days turns to ink.",) * 3
    for assignment, cut in (("", False), ("a" * 64, True)):
        made = tuple(msgspec.structs.replace(row, assignment=assignment) for row in rows(9))
        pages = [drawing(table, size, rows=made[:count], remark=how_it_goes) for count in (3, 9)]
        few, many = (page._remark_lines for page in pages)
        assert len(few) == 3
        assert (len(many) < len(few)) is cut
    assert len(pages[1].rows) > len(drawing(table, size, rows=rows(9), remark=how_it_goes).rows)
