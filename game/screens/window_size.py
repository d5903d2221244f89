"""How large the window is: within what can be drawn, on one screen or on all of it."""

from typing import Final

import pygame

from game.desk.sheet import SMALLEST

LARGEST: Final = (7680, 4320)
"""Twice as wide and high as the largest common screen: a picture of it takes 133 MB, one of 32767 by 32767 four GB."""

ORDINARY: Final = (1280, 720)
_FRAME: Final = (40, 110)
"""What the frame of a window and a desktop's bars take at most of a screen (common practice)."""

Size = tuple[int, int]


def fitted(size: Size) -> Size:
    """The nearest size that can be drawn."""
    (width, height), (least_width, least_height), (most_width, most_height) = size, SMALLEST, LARGEST
    return max(least_width, min(width, most_width)), max(least_height, min(height, most_height))


def first_size(screens: list[Size]) -> Size:
    """The window's size at the start by the first screen's: twice the ordinary one where dots are so dense that this
    would be a stamp, the smallest where it has no room inside its frame. A screen of the ordinary size is filled.
    """
    width, height = screens[0] if screens else ORDINARY
    if (width, height) == ORDINARY:
        return ORDINARY
    for size in ((2 * ORDINARY[0], 2 * ORDINARY[1]), ORDINARY):
        if width - _FRAME[0] >= size[0] and height - _FRAME[1] >= size[1]:
            return size
    return SMALLEST


def open_window(size: Size = ORDINARY) -> pygame.Surface:
    """The window, drawn in software: the flip of an accelerated one costs several times as much for what we draw."""
    pygame.display.set_caption("Homefret")
    return pygame.display.set_mode(size, pygame.RESIZABLE)


def fill_screen() -> pygame.Surface:
    """Let the window fill the screen it is on."""
    return pygame.display.set_mode((0, 0), pygame.FULLSCREEN)


def back_to_window(size: Size) -> pygame.Surface:
    """The window in its frame again. SDL gives it the size of the screen first, and this one when asked once more."""
    pygame.display.set_mode(size, pygame.RESIZABLE)
    return pygame.display.set_mode(size, pygame.RESIZABLE)
