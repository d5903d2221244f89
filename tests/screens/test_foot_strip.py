"""The strip below an enlarged screen: the next thing, the foremost keys, and the key that shows all."""

import pygame
import pytest

from game.player.settings import Settings
from game.screens.routes import ToSettings, ToSetUp, ToToday
from game.screens.window import MESSAGE_S
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.ways import some_routes

CASES = [((960, 600), 200), ((1280, 720), 200), ((1280, 720), 125), ((1920, 1080), 150)]


def pressed_at(table):
    """The presses of the strip with their boxes."""
    return [(press, box) for box, press in table.app.picture._strip._boxes]


@pytest.mark.parametrize(("size", "percent"), sample(CASES, by_default=1))
def test_on_every_screen_its_boxes_are_in_the_window_and_apart_and_all_keys_can_be_asked_for(tmp_path, size, percent):
    table = Table(tmp_path / "player", Settings(text_size=percent), size)
    window = pygame.Rect(0, 0, *size)
    for name, route in some_routes(table, tmp_path, 0).items():
        table.go(route)
        boxes = [box for _, box in pressed_at(table)]
        assert all(window.contains(box) for box in boxes), name
        assert all(box.collidelistall(boxes) == [number] for number, box in enumerate(boxes)), name
        keys = {press.key for press, _ in pressed_at(table)}
        assert pygame.K_F1 in keys, name
        corner = table.context.window.corner
        assert corner is None or corner.presses[0].key in keys, name


def test_a_click_on_the_next_thing_is_its_key_wherever_the_view_is(tmp_path):
    table = Table(tmp_path, Settings(text_size=200))
    table.go(ToSettings())
    enter = next(box for press, box in pressed_at(table) if press.key == pygame.K_RETURN)
    table.click(enter.center)
    assert table.screen_name == "TodayScreen"


def test_a_click_beside_its_keys_does_nothing_to_what_lies_below_it(tmp_path):
    table = Table(tmp_path, Settings(text_size=200))
    table.go(ToSettings())
    followed = table.context.window.followed
    free = next(x for x in range(0, 1280, 5) if table.app.picture._strip.press_at((x, 700)) is None)
    table.click((free, 700))
    assert table.context.window.followed == followed


def test_what_is_said_of_a_take_stands_above_it_as_long_as_a_message(tmp_path):
    table = Table(tmp_path, Settings(text_size=200), guitar=True)
    table.open("F4 q, G4 q, A4 h")
    strip = table.app.picture._strip
    assert table.screen.view.status
    said = strip.height_px
    table.wait(MESSAGE_S + 0.2)
    assert strip.height_px < said


def test_tabs_do_not_stand_on_it(tmp_path):
    table = Table(tmp_path, Settings(text_size=125))
    table.go(ToToday())
    assert pygame.K_m not in {press.key for press, _ in pressed_at(table)}


def test_what_is_asked_of_the_player_stays_there_as_long_as_it_holds(tmp_path):
    table = Table(tmp_path, Settings(text_size=200))
    table.go(ToSetUp("blue pickup"))
    strip = table.app.picture._strip
    asked = strip.height_px
    table.wait(MESSAGE_S + 0.2)
    assert strip.height_px == asked
    table.key(pygame.K_ESCAPE)
    table.wait(0.1)
    assert strip.height_px < asked


def test_at_100_percent_nothing_is_said_twice(table):
    table.go(ToSettings())
    assert table.context.window.words == ""
