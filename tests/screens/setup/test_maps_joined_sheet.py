"""The picture of two regions that are to be joined: another seam, another picture."""

import pygame

from game.screens.routes import ToMaps


def test_a_seam_that_is_moved_is_drawn_elsewhere(table):
    table.go(ToMaps())
    table.key(pygame.K_x)
    table.app.draw()
    before = pygame.image.tobytes(pygame.display.get_surface(), "RGB")
    table.key(pygame.K_DOWN)
    table.app.draw()
    assert pygame.image.tobytes(pygame.display.get_surface(), "RGB") != before
