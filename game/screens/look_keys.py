"""Keys that mean the same on every page. The letters and the row 1 to 6 belong to the music."""

from typing import Any

import pygame

from game.player.settings import OPTIONS, Look, MusicFace
from game.screens.context import ScreenContext

_BIGGER, _SMALLER = 2, -2


def change_look(event: pygame.event.Event, context: ScreenContext) -> bool:
    """Take a key that changes how pages look: F2 paper or night, F3 the music face, F6 and F7 the size of the staff.

    Returns whether it was one; the page is then to be drawn anew.
    """
    if event.type != pygame.KEYDOWN:
        return False
    settings = context.settings
    if event.key == pygame.K_F2:
        _change(context, "look", Look.NIGHT if settings.look is Look.PAPER else Look.PAPER)
    elif event.key == pygame.K_F3:
        face = MusicFace.HANDWRITTEN if settings.music_face is MusicFace.ENGRAVED else MusicFace.ENGRAVED
        _change(context, "music_face", face)
    elif event.key in (pygame.K_F6, pygame.K_F7):
        by = _SMALLER if event.key == pygame.K_F6 else _BIGGER
        _change(context, "staff_space_px", OPTIONS["staff_space_px"].within(settings.staff_space_px + by))
    else:
        return False
    return True


def _change(context: ScreenContext, name: str, value: Any) -> None:
    context.change_settings(context.settings.changed(name, value))
