"""Fresh lines and siblings, made when they are asked for."""

from random import Random

import pygame

from game.screens.choosing.fresh_requests import fresh_line_request
from game.screens.routes import ToFreshLine, ToUnseenLine


def test_after_a_fresh_line_another_comes(table):
    table.go(ToFreshLine())
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.fresh
    first = table.screen.request.score
    assert all(note.home is not None for note in table.screen.take.expected)
    table.key(pygame.K_RIGHT)
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.0)
    table.key(pygame.K_RIGHT)
    assert table.screen.request.fresh
    assert table.screen.request.score != first


def test_one_key_lays_a_sibling_on_the_desk_and_its_title_says_how_it_came_about(table):
    request = table.open("F4 q, G4 q, A4 q, G4 q", "A4 q, Bb4 q, C5 q, A4 q", "Bb4 q, A4 q, G4 q, A4 q", "F4 w", key=-1)
    table.play_through()
    table.key(pygame.K_a)
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.passage.bars != request.passage.bars
    assert sum(not bar.pickup for bar in table.screen.request.passage.bars) == 4
    assert "ibling" in table.screen.request.score.title


def test_a_line_is_made_in_the_key_that_was_asked_for(table):
    for key in ("F", "Bb"):
        table.go(ToUnseenLine(key))
        assert table.screen.request.score.title == f"Five notes, in {key}"


def test_for_somebody_who_begins_a_line_has_no_notes_that_were_never_met(table):
    table.open("C5 q, D5 q, E5 q, F5 q", "G5 w")
    table.play_through()
    for seed in range(3):
        request = fresh_line_request(table.context, Random(seed))
        assert {note.sounding for note in request.passage.notes} <= {60, 62, 64, 65, 67}
    assert fresh_line_request(table.context, Random(1), "Bb").score.bars[0].key.name == "Bb", "as it was asked for"
