"""Lines that stand still."""

import pygame

from game.screens.reading.still_music import StillMusic
from tests.screens.timed_pages import metronome_page


def test_the_page_can_stand_still_with_a_slip_over_the_bar_being_played(table):
    page = metronome_page(table)
    table.key(pygame.K_o, "o")
    assert isinstance(page.view.music, StillMusic)
    table.key(pygame.K_i, "i")
    assert page.view.music.slip
    table.play_in_time()
    table.wait(2.0)
    assert table.verdicts == ["clean"] * 7
