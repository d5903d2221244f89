"""The icon is the note in its ring, however small."""

import pygame
import pytest

from game.desk.icon import icon


@pytest.mark.parametrize("side", [16, 48, 128])
def test_the_icon_shows_its_note_and_its_ring_at_the_sizes_of_desktops(side):
    """Some of hicolor's usual sizes (Icon Theme Specification)."""
    drawn = pygame.transform.smoothscale(icon(), (side, side))
    colours = [tuple(drawn.get_at((x, y)))[:3] for x in range(side) for y in range(side)]
    assert any(blue > 80 and blue > red + 40 for red, _, blue in colours)
    assert any(red > 140 and red > blue + 60 for red, _, blue in colours)
