"""The keys at the foot of a screen can be clicked: a click into a box is the press of its key."""

import pygame
import pytest

from game.screens.choosing.today_screen import TodayScreen
from game.screens.key_hints import key_hints
from game.screens.routes import ToSettings, ToToday
from game.screens.shown_keys import draw_keys, lay_paper
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.ways import some_routes


def boxes(table):
    """What can be clicked now."""
    return list(table.context.window._boxes)


def test_the_words_beside_a_key_are_clicked_with_it(table):
    table.go(ToSettings())
    box = next(box for box, press in boxes(table) if press.key == pygame.K_ESCAPE)
    table.click((box.right - 3, box.centery))
    assert isinstance(table.screen, TodayScreen)


def test_beside_every_box_a_click_is_a_click(table):
    assert table.context.window.press_at((5, 5)) is None


def test_what_was_shown_on_the_picture_before_cannot_be_clicked_any_more(table):
    table.go(ToToday())
    before = {press.key for _, press in boxes(table)}
    lay_paper(table.context, table.app.surface)
    assert before
    assert boxes(table) == []


def test_keys_for_which_there_is_no_room_are_left_out_and_told(table):
    keys = key_hints(*(("F1", "keys.again"),) * 40)
    lay_paper(table.context, table.app.surface)
    one = draw_keys(table.context, table.app.surface, keys)
    two = draw_keys(table.context, table.app.surface, keys, most_rows=2)
    assert one < two < 40
    assert len(boxes(table)) == one + two


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720), (1920, 1080)], by_default=1))
def test_on_every_screen_each_key_shown_can_be_clicked_in_the_window_and_no_two_boxes_overlap(tmp_path, size):
    table = Table(tmp_path / "player", size=size)
    for name, route in some_routes(table, tmp_path, 1).items():
        table.go(route)
        table.wait(0.3)
        found = boxes(table)
        assert found, name
        assert all(table.app.surface.get_rect().contains(box) for box, _ in found), name
        assert not [
            (one, other) for one, _ in found for other, _ in found if one is not other and one.colliderect(other)
        ], name
