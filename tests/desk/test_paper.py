"""The paper on the desk, and what is set on it."""

import pygame
import pytest

from game.desk.paper import (
    draw_choice_mark,
    draw_heading,
    draw_paper,
    draw_paragraph,
    draw_text,
    draw_text_right,
)
from game.desk.sheet import SMALLEST, Sheet
from game.desk.theme import NIGHT, PAPER
from game.desk.typography import Face, text_width

SIZES = [SMALLEST, (1280, 720), (1920, 1080)]


@pytest.fixture(params=SIZES)
def sheet(request):
    return Sheet(request.param)


@pytest.fixture
def surface(sheet):
    pygame.display.init()
    pygame.font.init()
    made = pygame.Surface(sheet.size)
    made.fill(PAPER.paper)
    return made


def marked(surface, area=None):
    """The rectangle in which something was drawn on the blank paper."""
    area = area or surface.get_rect()
    part = surface.subsurface(area)
    mask = pygame.mask.from_threshold(part, PAPER.paper, (1, 1, 1))
    mask.invert()
    boxes = mask.get_bounding_rects()
    return boxes[0].unionall(boxes[1:]).move(area.topleft) if boxes else pygame.Rect(area.topleft, (0, 0))


@pytest.mark.parametrize("theme", [PAPER, NIGHT])
def test_paper_lies_on_the_desk_with_its_edge(surface, sheet, theme):
    draw_paper(surface, sheet, theme)
    middle = surface.get_at(sheet.paper.center)[:3]
    assert all(abs(seen - wanted) <= 2 for seen, wanted in zip(middle, theme.paper, strict=True))
    assert surface.get_at((0, 0))[:3] != middle
    assert surface.get_at((sheet.paper.centerx, sheet.paper.bottom + 1))[:3] != middle


def test_a_line_begins_or_ends_where_it_is_put(surface):
    left = draw_text(surface, "Fret", (100, 50), Face.TEXT, 24, PAPER.ink)
    right = draw_text_right(surface, "Fret", (400, 50), Face.TEXT, 24, PAPER.ink)
    assert left.topleft == (100, 50)
    assert right.topright == (400, 50)
    assert left.contains(marked(surface, pygame.Rect(0, 0, 300, 200)))


def test_a_paragraph_keeps_to_its_width_and_says_what_room_it_took(surface):
    room = pygame.Rect(50, 40, 200, 400)
    used = draw_paragraph(surface, "a finger a fret " * 12, room, Face.TEXT, 20, PAPER.ink)
    assert used.topleft == room.topleft
    assert used.height % 25 == 0
    assert used.contains(marked(surface))
    assert draw_paragraph(surface, "", room, Face.TEXT, 20, PAPER.ink).height == 0


def test_a_long_title_is_cut_before_it_meets_what_stands_beside(surface, sheet):
    draw_heading(surface, sheet, PAPER, "The Ford at Low Water " * 9, below="below", beside="12 minutes")
    width = text_width("12 minutes", Face.TEXT, sheet.text_px)
    gap = pygame.Rect(sheet.text_area.right - width - sheet.px(30), sheet.text_area.top, sheet.px(20), sheet.px(50))
    assert marked(surface, gap).size == (0, 0)
    assert sheet.text_area.inflate(4, 4).contains(marked(surface))


def test_what_is_chosen_has_a_stroke_at_the_left_edge(surface, sheet):
    draw_choice_mark(surface, sheet, PAPER, 200)
    stroke = marked(surface)
    assert stroke.left >= sheet.text_area.left
    assert stroke.right < sheet.text_area.left + sheet.px(32)
    assert abs(stroke.centery - 200) <= sheet.px(3)
