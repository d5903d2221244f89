"""F1 or a question mark lays a sheet with all keys onto any screen; the next key takes it away."""

import pygame
import pytest

from game.player.settings import Settings
from game.screens.keys_sheet import keys_of
from game.screens.routes import ToPage, ToPlayers, ToSettings
from game.screens.setup.settings_screen import SettingsScreen
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.timed_pages import metronome_page
from tests.screens.ways import request_of, some_routes


def shown(table):
    return table.app.picture.keys.shown


@pytest.mark.parametrize(
    ("key", "text"), sample([(pygame.K_F1, ""), (pygame.K_SLASH, "?"), (pygame.K_MINUS, "?")], by_default=1)
)
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


def test_in_text_twice_as_large_it_has_pages_and_together_they_hold_every_key(tmp_path):
    table = Table(tmp_path, Settings(text_size=200))
    metronome_page(table)
    table.key(pygame.K_F1)
    window = table.app.surface.get_rect()
    found, pages = set(), 0
    while True:
        here = {press for _, press in table.context.window._boxes}
        assert all(window.contains(box) for box, _ in table.context.window._boxes)
        if here <= found:
            break
        found, pages = found | here, pages + 1
        table.key(pygame.K_PAGEDOWN)
        assert shown(table)
    assert pages > 1
    assert {press for hint in keys_of(table.context) for press in hint.presses} <= found


def test_a_key_that_moves_the_view_stands_on_it_and_a_click_on_that_moves_the_view(tmp_path):
    table = Table(tmp_path, Settings(text_size=150))
    table.go(ToSettings())
    for _ in range(4):
        table.key(pygame.K_LEFT, mod=pygame.KMOD_LCTRL)
    table.key(pygame.K_F1)
    box = next(box for box, press in table.context.window._boxes if press.mod and press.key == pygame.K_RIGHT)
    table.click(box.center)
    table.wait(0.5)
    assert not shown(table)
    assert table.app.picture.view.part(table.clock.now_s()).left > 0


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_on_every_screen_all_of_it_is_on_the_paper(tmp_path, size):
    table = Table(tmp_path / "player", size=size)
    for name, route in some_routes(table, tmp_path, 2).items():
        table.go(route)
        table.wait(0.1)
        table.key(pygame.K_F1)
        boxes = [box for box, _ in table.context.window._boxes]
        assert len(keys_of(table.context)) >= 4, name
        assert all(table.context.sheet.paper.contains(box) for box in boxes), name
        assert all(box.collidelistall(boxes) == [number] for number, box in enumerate(boxes)), name
        table.key(pygame.K_F1)
