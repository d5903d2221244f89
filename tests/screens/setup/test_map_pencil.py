"""What the pencil adds to the map when a note is looked at."""

import pygame

from game.desk.theme import PAPER
from game.screens.routes import ToMap


def in_red():
    surface = pygame.display.get_surface()
    return pygame.mask.from_threshold(surface, PAPER.accent, (40, 40, 40, 255)).count()


def test_a_note_that_is_looked_at_is_ringed_and_tied_in_red(table):
    table.go(ToMap())
    table.app.draw()
    before = in_red()
    table.key(pygame.K_UP)
    table.app.draw()
    assert in_red() > before + 100
