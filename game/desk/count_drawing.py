"""The count on the page: the figure of the beat in a pencilled ring that stands still, and beside it the others."""

from dataclasses import dataclass

import pygame

from game.desk import pencil
from game.desk.kit.canvas import blend
from game.desk.theme import Theme
from game.desk.typography import Face

# In type sizes: the ring around a figure, its stroke, the side of the square it is sure to stay in, from figure to
# figure, and the figure in the ring.
_RING, _LINE, _SIDE, _STEP, _FIGURE = 1.5, 0.1, 1.9, 2.1, 1.2
_QUIET = 0.75


@dataclass(frozen=True, slots=True)
class Count:
    """A beat of a bar of so many, from 1 on."""

    beat: int
    beats: int


def count_px(type_px: int) -> int:
    """The side of the square a count of a size takes."""
    return round(_SIDE * type_px)


def draw_count(surface: pygame.Surface, count: Count, centre: tuple[int, int], type_px: int, theme: Theme) -> None:
    """Draw the figure of a beat on paper; the ring is the same for every beat, so that nothing seems to move."""
    ring = pencil.ring(_RING * type_px, max(2.0, _LINE * type_px), theme.pencil, seed=2)
    figure = pencil.letters(str(count.beat), Face.FIGURES, round(_FIGURE * type_px), theme.ink)
    surface.fill(theme.paper, ring.get_rect(center=centre))
    surface.blit(ring, ring.get_rect(center=centre))
    _put(surface, figure, centre)


def draw_count_row(surface: pygame.Surface, count: Count, centre: tuple[int, int], type_px: int, theme: Theme) -> None:
    """Draw the count with the other beats of its bar at both sides: with each beat they step on under the ring."""
    colour = blend(theme.paper, theme.pencil, _QUIET)
    for beat in range(1, count.beats + 1):
        if beat != count.beat:
            figure = pencil.letters(str(beat), Face.FIGURES, type_px, colour)
            _put(surface, figure, (centre[0] + round((beat - count.beat) * _STEP * type_px), centre[1]))
    draw_count(surface, count, centre, type_px, theme)


def _put(surface: pygame.Surface, figure: pygame.Surface, centre: tuple[int, int]) -> None:
    """What is inked of a figure, its middle at a point."""
    inked = figure.get_bounding_rect()
    surface.blit(figure, figure.subsurface(inked).get_rect(center=centre).topleft, inked)
