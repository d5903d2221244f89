"""Where a take leads."""

import pygame
import pytest

from game.coach.events import Wish
from game.screens.reading.take_routes import overruled_route, result_route
from tests.screens.timed_pages import free_page
from tests.screens.ways import request_of


def test_the_player_overrules_the_coach_with_one_key(table):
    free_page(table)
    table.key(pygame.K_PERIOD, ".")
    first = table.screen.request.tempo_bpm
    assert first is not None
    table.key(pygame.K_MINUS, "-")
    assert table.screen.request.tempo_bpm <= first
    table.key(pygame.K_PERIOD, ".")
    assert table.screen.request.tempo_bpm is None


@pytest.mark.parametrize("stage", ["places", "time"])
def test_a_take_in_which_nothing_was_played_has_no_result(table, stage):
    if stage == "time":
        free_page(table)
    else:
        table.open("F4 h, G4 h")
    page, known = table.screen, table.context.session.coach.state
    assert result_route(table.context, page.request, page.take.end(), page._recorder) is None
    assert table.context.session.coach.state == known


def test_the_result_of_a_take_holds_what_the_coach_says_of_it(table):
    table.open("F4 h, G4 h")
    table.play(53)
    page = table.screen
    route = result_route(table.context, page.request, page.take.end(), page._recorder)
    assert (route.request, route.finished.read_count) == (page.request, 1)
    assert route.decision == table.context.session.coach.state.decision


def test_a_wish_is_followed_at_once_and_kept_by_the_coach(table):
    request = request_of(table)
    table.context.session.coach.open_passage(request.passage)
    route = overruled_route(table.context, request, Wish.METRONOME_NOW)
    assert route.chosen
    assert route.request.tempo_bpm is not None
    assert route.request.passage == request.passage
    assert table.logged("SELECT count(*) FROM decision") == [(2,)]
