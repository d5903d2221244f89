"""How the music of a page is seen, as the player has set it."""

import pygame
import pytest

from game.coach.stages import Stage
from game.engraving.shapes import TextKind
from game.neck.neck_map import standard_map
from game.practice.take_request import request_for
from game.screens.reading.marking_screen import MarkingScreen
from game.screens.reading.music_view_for import music_view_for, toggle_setting
from game.screens.reading.notated_music import NotatedMusic
from game.screens.reading.page_view_for import page_view_for
from game.screens.reading.scrolling_music import ScrollingMusic
from game.screens.reading.still_music import StillMusic
from tests.made import score
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


LOW = score("A4 q, C5 q, E5 q, A4 q", "A4 q, F3 q, A4 q, C5 q")


def numerals(music):
    found = [text for system in music._engraving.systems for text in system.texts if text.kind is TextKind.POSITION]
    return [text.text for text in found]


@pytest.mark.parametrize("still", [False, True])
@pytest.mark.parametrize("stage", [Stage.TIME, Stage.RHYTHM, Stage.SIGHT])
def test_where_the_hand_shifts_the_page_says_so_however_it_is_seen(table, stage, still):
    request = request_for(LOW, table.context.settings.neck_map())
    request = request.at_sight() if stage is Stage.SIGHT else request.in_stage(stage)
    asked = [] if stage is Stage.RHYTHM else ["V", "I", "V"]
    assert numerals(seen(table, request, still=still)) == asked


@pytest.mark.parametrize(("stage", "asked"), [(Stage.PLACES, ["V", "I", "V"]), (Stage.LETTERS, [])])
def test_the_page_that_waits_says_it_too_and_the_page_of_names_does_not(table, stage, asked):
    request = request_for(LOW, table.context.settings.neck_map()).in_stage(stage)
    assert numerals(page_view_for(table.context, request).music) == asked


def test_the_page_follows_the_map_it_is_read_on(table):
    """A map that is changed later is that of the next page."""
    request = request_for(LOW, standard_map(position=1))
    assert numerals(page_view_for(table.context, request).music) != ["V", "I", "V"]


def test_a_page_that_is_marked_by_hand_shows_where_the_hand_was(table):
    request = request_for(LOW, table.context.settings.neck_map())
    assert numerals(MarkingScreen(table.context, request)._music) == ["V", "I", "V"]


def test_a_page_that_asks_what_its_player_knows_does_not_say_where_the_hand_is(table):
    request = request_for(LOW, table.context.settings.neck_map())
    assert numerals(page_view_for(table.context, request, asks=True).music) == []
