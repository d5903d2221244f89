"""The count on the page: the figure of the beat in a pencilled ring that stands still."""

import pygame

from game.desk import pencil
from game.desk.theme import Theme
from game.desk.typography import Face

# In type sizes: the ring around a figure, its stroke, and the side of the square it is sure to stay in.
_RING, _LINE, _SIDE = 1.5, 0.1, 1.9


def count_px(type_px: int) -> int:
    """The side of the square a count of a size takes."""
    return round(_SIDE * type_px)


def draw_count(surface: pygame.Surface, beat: str, centre: tuple[int, int], type_px: int, theme: Theme) -> None:
    """Draw the figure of a beat on paper; the ring is the same for every beat, so that nothing seems to move."""
    ring = pencil.ring(_RING * type_px, max(2.0, _LINE * type_px), theme.pencil, seed=2)
    figure = pencil.letters(beat, Face.FIGURES, round(1.2 * type_px), theme.ink)
    surface.fill(theme.paper, ring.get_rect(center=centre))
    surface.blit(ring, ring.get_rect(center=centre))
    inked = figure.get_bounding_rect()
    surface.blit(figure, figure.subsurface(inked).get_rect(center=centre).topleft, inked)
