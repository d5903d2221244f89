"""The game's own picture, as desktops show it."""

import pygame

from game.paths import shipped


def icon() -> pygame.Surface:
    """A note in its ring on a sheet, 128 pixels wide."""
    return pygame.image.load(shipped("content", "desktop", "homefret.svg"))
