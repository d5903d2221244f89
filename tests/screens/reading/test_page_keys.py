"""The keys that mean the same on every page."""

import pygame

from tests.screens.timed_pages import ROWS, metronome_page


def test_the_bars_can_be_fewer_or_more(table):
    page = metronome_page(table)
    table.key(pygame.K_LEFTBRACKET, "[")
    assert len(table.screen.request.passage.bars) == len(page.request.passage.bars) - 1
    table.key(pygame.K_RIGHTBRACKET, "]")
    assert len(table.screen.request.passage.bars) == len(page.request.passage.bars)


def test_the_bridge_gives_each_written_note_a_click_and_leads_back(table):
    table.open(*ROWS, key=-1)
    table.key(pygame.K_j, "j")
    assert table.screen.request.one_a_click
    assert table.screen.request.tempo_bpm == 50
    table.key(pygame.K_j, "j")
    assert table.screen_name == "PlacesPage"
