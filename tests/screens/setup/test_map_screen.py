"""The map is looked at and changed, by mouse, keys and guitar."""

import pygame

from game.neck.tuning import STANDARD, Place
from game.player.settings_file import load
from game.screens.routes import ToMap


def test_a_click_on_the_map_moves_a_home_and_backspace_puts_it_back(table):
    table.go(ToMap())
    table.click(table.screen._neck.centre_of(Place(4, 9)))
    assert table.context.settings.neck_map().home_of(59).place == Place(4, 9)
    assert load(table.context.session.profile.settings_path).settings.choices == {59: (4, 9)}
    table.key(pygame.K_BACKSPACE)
    assert table.context.settings.neck_map().home_of(59).place == Place(3, 4)


def test_a_played_note_moves_a_home_too(table):
    table.go(ToMap())
    table.play(59, Place(4, 9))
    assert table.context.settings.neck_map().home_of(59).place == Place(4, 9)


def test_the_position_moves_along_the_neck_and_stops_at_its_ends(table):
    table.go(ToMap())
    for _ in range(8):
        table.key(pygame.K_LEFT)
    assert table.context.settings.position == 1
    assert "position 0 is not on this neck" in table.context.window.message.lower()


def test_a_ghost_moves_no_home_and_a_whole_map_is_set_up_by_playing_it_from_bottom_to_top(table, pickup):
    table.go(ToMap())
    pickup.pluck(Place(3, 2), lasts_s=0.001)
    assert not table.context.settings.choices
    low = [Place(string, fret) for string in (6, 5) for fret in (7, 8, 9)]
    for place in low:
        pickup.pluck(place)
    homes = table.context.settings.neck_map().places
    assert [homes[STANDARD.sounding(place)] for place in low] == low
