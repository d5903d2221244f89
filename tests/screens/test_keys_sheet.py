"""F1 or a question mark lays a sheet with all keys onto any screen; the next key takes it away."""

import pygame
import pytest

from game.screens.keys_sheet import keys_of
from game.screens.routes import ToPage, ToPlayers, ToSettings
from game.screens.setup.settings_screen import SettingsScreen
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.ways import request_of, routes


def shown(table):
    return table.app._keys_shown


@pytest.mark.parametrize(("key", "text"), [(pygame.K_F1, ""), (pygame.K_SLASH, "?"), (pygame.K_MINUS, "?")])
def test_it_comes_with_f1_and_with_a_question_mark_wherever_that_is_on_the_keyboard(table, key, text):
    table.go(ToSettings())
    table.key(key, text)
    assert shown(table)
    table.key(pygame.K_ESCAPE)
    assert not shown(table)
    assert isinstance(table.screen, SettingsScreen)


def test_all_keys_of_the_foot_stand_on_it_and_a_click_on_one_is_its_press(table):
    table.go(ToSettings())
    table.app.draw()
    before = {press.key for _, press in table.context.window._boxes}
    table.key(pygame.K_F1)
    there = {press.key: box for box, press in table.context.window._boxes}
    assert before <= set(there)
    table.click(there[pygame.K_F2].center)
    assert not shown(table)
    assert table.context.settings.look.value == "night"


def test_a_click_beside_every_key_only_takes_it_away(table):
    table.go(ToSettings())
    table.key(pygame.K_F1)
    table.click((5, 5))
    assert not shown(table)
    assert isinstance(table.screen, SettingsScreen)


def test_a_key_that_has_no_room_at_the_foot_stands_on_it(tmp_path):
    table = Table(tmp_path, size=(960, 600))
    table.go(ToPage(request_of(table), chosen=True))
    at_the_foot = {press.key for _, press in table.context.window._boxes}
    table.key(pygame.K_F1)
    assert {press.key for _, press in table.context.window._boxes} > at_the_foot


def test_where_a_name_is_typed_a_question_mark_is_one(table):
    table.go(ToPlayers())
    table.key(pygame.K_INSERT)
    table.key(pygame.K_SLASH, "?")
    assert not shown(table)


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_on_every_screen_all_of_it_is_on_the_paper(tmp_path, size):
    table = Table(tmp_path / "player", size=size)
    for name, route in routes(table, tmp_path).items():
        table.go(route)
        table.wait(0.1)
        table.key(pygame.K_F1)
        boxes = [box for box, _ in table.context.window._boxes]
        assert len(keys_of(table.context)) >= 4, name
        assert all(table.context.sheet.paper.contains(box) for box in boxes), name
        assert all(box.collidelistall(boxes) == [number] for number, box in enumerate(boxes)), name
        table.key(pygame.K_F1)
