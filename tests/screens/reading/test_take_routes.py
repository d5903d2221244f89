"""Where a take leads."""

import pygame

from tests.screens.timed_pages import free_page


def test_the_player_overrules_the_coach_with_one_key(table):
    free_page(table)
    table.key(pygame.K_k, "k")
    first = table.screen.request.tempo_bpm
    assert first is not None
    table.key(pygame.K_MINUS, "-")
    assert table.screen.request.tempo_bpm <= first
    table.key(pygame.K_k, "k")
    assert table.screen.request.tempo_bpm is None
