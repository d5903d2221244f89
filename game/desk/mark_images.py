"""What each pencil mark looks like, in the size of its lane: letters, circled strings, arrows, carets, crosses."""

import math
from dataclasses import dataclass
from functools import lru_cache

import pygame

from game.desk import pencil
from game.desk.theme import Colour, Theme
from game.desk.typography import Face, font
from game.neck.tuning import Place
from game.practice.pencilled import (
    CountMark,
    Mark,
    MissedMark,
    NameMark,
    OffTimeMark,
    PaceMark,
    PlaceMark,
    PlayedHead,
    SaidWrongMark,
    UnsureMark,
)

# So many hands' turns of one drawing are kept apart: neighbours differ, and few are drawn.
_VARIETY = 7
# A capital's height, and the thickness of a stroke, in sizes of the type.
_CAPITAL, _STROKE = 0.66, 0.085


@dataclass(frozen=True, slots=True)
class MarkImage:
    """A mark without margins. `top` is where it begins against the middle of its row; letters share a base line."""

    surface: pygame.Surface
    top: int
    colour: Colour


def mark_image(mark: Mark, px: int, theme: Theme, seed: int, *, played: str = "") -> MarkImage:
    """A mark in type of `px`; `played` is the name of the note that was played, where the mark is of one."""
    seed %= _VARIETY
    match mark:
        case NameMark(text=text, struck=struck):
            return _name(text, px, theme.accent if struck else theme.pencil, struck=struck)
        case PaceMark(text=text) | CountMark(text=text):
            return _letters(text, Face.ITALIC, px, theme.pencil)
        case UnsureMark():
            return _letters("?", Face.TITLE, px, theme.pencil)
        case PlayedHead():
            return _letters(played, Face.TITLE, px, theme.accent)
        case _:
            quiet = isinstance(mark, OffTimeMark) or (isinstance(mark, PlaceMark) and mark.home)
            colour = theme.pencil if quiet else theme.accent
            surface = _drawn(mark, px, colour, seed)
            return MarkImage(surface, -surface.get_height() // 2, colour)


def _drawn(
    mark: PlaceMark | OffTimeMark | MissedMark | SaidWrongMark, px: int, colour: Colour, seed: int
) -> pygame.Surface:
    match mark:
        case PlaceMark(place=place):
            return _place(place, px, colour, seed)
        case OffTimeMark(early=early):
            return _arrow(px, colour, seed, early=early)
        case MissedMark():
            return _caret(px, colour, seed)
        case SaidWrongMark():
            return _cross(px, colour, seed)


def _letters(text: str, face: Face, px: int, colour: Colour) -> MarkImage:
    image, room = _cut(text, face, px, colour)
    base_line = round(_CAPITAL * px / 2) - font(face, px).get_ascent()
    return MarkImage(image, base_line + room.top, colour)


@lru_cache(maxsize=300)
def _cut(text: str, face: Face, px: int, colour: Colour) -> tuple[pygame.Surface, pygame.Rect]:
    image = pencil.letters(text, face, px, colour)
    room = image.get_bounding_rect()
    return image.subsurface(room), room


def _name(text: str, px: int, colour: Colour, *, struck: bool) -> MarkImage:
    written = _letters(text, Face.ITALIC, px, colour)
    if not struck:
        return written
    height = written.surface.get_height()
    stroke = pencil.line(written.surface.get_width() * 1.15, px * 0.07, colour, len(text))
    surface = pygame.Surface((stroke.get_width(), height), pygame.SRCALPHA)
    surface.blit(written.surface, written.surface.get_rect(center=surface.get_rect().center))
    surface.blit(stroke, stroke.get_rect(center=surface.get_rect().center))
    return MarkImage(surface, written.top, colour)


def _trimmed(surface: pygame.Surface) -> pygame.Surface:
    return surface.subsurface(surface.get_bounding_rect())


@lru_cache(maxsize=300)
def _place(place: Place, px: int, colour: Colour, seed: int) -> pygame.Surface:
    """A circled string number and a fret."""
    circle = _trimmed(pencil.circled_text(str(place.string), px, colour, seed))
    fret = _trimmed(pencil.letters(str(place.fret), Face.FIGURES, px, colour))
    left = circle.get_width() + round(px * 0.16)
    surface = pygame.Surface((left + fret.get_width(), circle.get_height()), pygame.SRCALPHA)
    surface.blit(circle, (0, 0))
    surface.blit(fret, fret.get_rect(midleft=(left, surface.get_height() // 2)))
    return surface


@lru_cache(maxsize=60)
def _arrow(px: int, colour: Colour, seed: int, *, early: bool) -> pygame.Surface:
    """To the left for a note that came early, to the right for one that came late."""
    length, half = px * 1.15, px * 0.32
    tip, tail = (3.0, length) if early else (length, 3.0)
    inward = half if early else -half
    shaft = ((tail, half + 2), (tip, half + 2))
    barbs = ((tip + inward, 2.0), (tip, half + 2), (tip + inward, 2 * half + 2))
    size = (math.ceil(length + 4), math.ceil(2 * half + 5))
    return _trimmed(pencil.drawing((shaft, barbs), size, max(1.8, px * _STROKE), colour, seed))


@lru_cache(maxsize=60)
def _caret(px: int, colour: Colour, seed: int) -> pygame.Surface:
    """As a proof-reader marks a gap, from below."""
    size = round(px * 1.0)
    strokes = (((2.0, size - 2.0), (size / 2, size * 0.2), (size - 2.0, size - 2.0)),)
    return _trimmed(pencil.drawing(strokes, (size, size), max(2.2, px * 0.12), colour, seed))


@lru_cache(maxsize=60)
def _cross(px: int, colour: Colour, seed: int) -> pygame.Surface:
    size = round(px * 1.05)
    far = size - 2.0
    strokes = (((2.0, 2.0), (far, far)), ((far, 2.0), (2.0, far)))
    return _trimmed(pencil.drawing(strokes, (size, size), max(2.2, px * 0.12), colour, seed))
