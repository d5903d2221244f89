"""How the music of a page is seen, as the player has set it."""

import pygame
import pytest

from game.coach.stages import Stage
from game.screens.reading.music_view_for import music_view_for, toggle_setting
from game.screens.reading.notated_music import NotatedMusic
from game.screens.reading.scrolling_music import ScrollingMusic
from game.screens.reading.still_music import StillMusic
from tests.screens.ways import request_of

AREA = pygame.Rect(70, 134, 1140, 360)


def seen(table, request, **settings):
    table.settle(**settings)
    return music_view_for(table.context, request, AREA)


def test_a_staff_moves_unless_the_player_wants_it_to_stand_still(table):
    request = request_of(table, Stage.TIME)
    assert isinstance(seen(table, request), ScrollingMusic)
    assert type(seen(table, request, still=True)) is StillMusic


def test_first_sight_is_the_page_as_it_is_notated_whatever_is_set(table):
    for still in (False, True):
        assert isinstance(seen(table, request_of(table).at_sight(), still=still), NotatedMusic)


@pytest.mark.parametrize(("tempo_bpm", "slip"), [(80, True), (None, False)])
def test_a_slip_covers_the_bar_being_played_only_where_a_clock_moves_it_on(table, tempo_bpm, slip):
    from dataclasses import replace

    request = replace(request_of(table, Stage.TIME), tempo_bpm=tempo_bpm)
    assert seen(table, request, still=True, slip=True).slip is slip


def test_a_look_that_is_toggled_is_kept(table):
    toggle_setting(table.context, "still")
    assert table.context.settings.still
    toggle_setting(table.context, "still")
    assert not table.context.settings.still
