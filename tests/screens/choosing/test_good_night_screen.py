"""The end of a sitting: Esc leaves the game, Enter goes back to Today."""

import pygame
import pytest

from game.screens.routes import ToGoodNight
from tests.screens.table import Table


@pytest.fixture
def table(tmp_path):
    table = Table(tmp_path)
    table.go(ToGoodNight())
    return table


def test_esc_leaves_the_game(table):
    table.key(pygame.K_ESCAPE)
    assert not table.app.running


def test_a_click_on_the_corner_leaves_it_too(table):
    box = next(box for box, press in table.context.window._boxes if press.key == pygame.K_ESCAPE)
    table.click(box.center)
    assert not table.app.running


def test_enter_leads_back_to_today(table):
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"
