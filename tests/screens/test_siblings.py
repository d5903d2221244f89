"""Siblings on the desk: other bars on the same notes."""

from dataclasses import replace

import pygame

from game.coach.decisions import Offer


def finish(table):
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.5)
    assert table.screen_name == "ResultScreen"


def test_one_key_lays_a_sibling_on_the_desk_and_its_title_says_how_it_came_about(table):
    request = table.open("F4 q, G4 q, A4 q, G4 q", "A4 q, Bb4 q, C5 q, A4 q", "Bb4 q, A4 q, G4 q, A4 q", "F4 w", key=-1)
    finish(table)
    table.key(pygame.K_b)
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.passage.bars != request.passage.bars
    assert len(table.screen.request.passage.score.bars) == 4
    assert "ibling" in table.screen.request.score.title


def test_where_the_coach_wants_no_more_of_a_passage_today_a_sibling_comes_next(table):
    request = table.open("F4 q, G4 q, A4 q, G4 q", "A4 q, Bb4 q, C5 q, A4 q", "Bb4 q, A4 q, G4 q, A4 q", "F4 w", key=-1)
    finish(table)
    table.screen.decision = replace(table.screen.decision, offer=Offer.SIBLING)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.passage.bars != request.passage.bars
