"""Where the groups and rows of the settings stand, and what a click between them means."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.corner import CORNER_SIZE, corner_point
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.screens.setup.settings_sheet import ROW_HEIGHT, RowText, SettingsSheet

WINDOWS = [(960, 600), (1280, 720), (1920, 1080), (3840, 2160), (2560, 1080)]


@pytest.fixture(params=WINDOWS, ids=str)
def sheet(request):
    pygame.display.init()
    pygame.font.init()
    return SettingsSheet(Canvas(pygame.Surface(request.param), Sheet(request.param), PAPER), 9, 0)


def text(**changes):
    return RowText(**{"name": "paper", "value": "day", "why": "Night is for a dim room.", **changes})


def test_six_rows_of_84_at_least_are_in_sight_above_the_corner(sheet):
    assert sheet.rows_shown >= 6
    assert abs(sheet.row_rect(0).height - sheet.canvas.px(ROW_HEIGHT)) <= 1
    _, bottom = corner_point(sheet.canvas)
    assert sheet.row_rect(sheet.in_sight[-1]).bottom <= sheet.canvas.px(bottom - CORNER_SIZE)


def test_no_two_rows_or_groups_overlap(sheet):
    rects = [sheet.row_rect(row) for row in sheet.in_sight] + [sheet.group_rect(group) for group in range(3)]
    assert all(rect.collidelistall(rects) == [number] for number, rect in enumerate(rects))


def test_the_last_row_comes_into_sight_with_those_before_it(sheet):
    last = SettingsSheet(sheet.canvas, 9, 8)
    assert last.in_sight[-1] == 8
    assert len(last.in_sight) == sheet.rows_shown


def test_a_click_left_of_a_value_is_a_step_back_and_one_on_or_right_of_it_a_step_on(sheet):
    left = sheet.value_left(text())
    steps = [sheet.step_at(text(), sheet.canvas.px(x)) for x in (500, left - 60, left - 22, left + 5, 1180, 1200)]
    assert steps == [0, 0, -1, 1, 1, 1]


def test_a_row_that_leads_on_only_leads_on(sheet):
    left = sheet.value_left(text(leads=True))
    assert sheet.step_at(text(leads=True), sheet.canvas.px(left - 22)) == 1


def test_a_long_value_begins_behind_the_name(sheet):
    long = text(name="the right pitch elsewhere", value="stays until it is played at its home " * 4)
    assert sheet.value_left(long) > 446 + 250
