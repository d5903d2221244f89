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


def box_of(table, key):
    return next(box for box, press in table.context.window._boxes if press.key == key)


def test_esc_leaves_the_game(table):
    table.key(pygame.K_ESCAPE)
    assert not table.app.running


def test_a_click_on_the_corner_leaves_it_too(table):
    table.click(box_of(table, pygame.K_ESCAPE).center)
    assert not table.app.running


def test_enter_leads_back_to_today_and_so_does_a_click(table):
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"
    table.go(ToGoodNight())
    table.click(box_of(table, pygame.K_RETURN).center)
    assert table.screen_name == "TodayScreen"


def test_the_free_string_twice_is_good_night(table):
    table.pluck_free_string(2)
    assert not table.app.running


def test_what_was_just_played_is_in_it(table):
    assert table.screen._sheet.played.startswith("nothing")
    table.open("F4 q, G4 q, A4 h")
    table.play_through()
    table.go(ToGoodNight())
    assert table.screen._sheet.played == "1 minute played, one take"
    assert table.screen._sheet.quicker_none == "3 notes read."


def test_what_comes_from_another_computer_meanwhile_is_shown(table, tmp_path):
    before = table.picture()
    other = Table(tmp_path)
    other.open("F4 q, G4 q, A4 h")
    other.play_through()
    assert other.context.session.close() is None
    table.context.session.begin_again()
    table.screen.read_anew()
    assert table.picture() != before
