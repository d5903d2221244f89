"""Keys that mean the same on every page. The letters and the row 1 to 6 belong to the music."""

import msgspec
import pygame

from game.player.settings import Look, MusicFace, Settings
from game.screens.context import ScreenContext

_BIGGER, _SMALLER = 2, -2
SMALLEST_SPACE, LARGEST_SPACE = 16, 48


def change_look(event: pygame.event.Event, context: ScreenContext) -> bool:
    """Take a key that changes how pages look: F2 paper or night, F3 the music face, F6 and F7 the size of the staff.

    Returns whether it was one; the page is then to be drawn anew.
    """
    if event.type != pygame.KEYDOWN:
        return False
    settings = context.settings
    if event.key == pygame.K_F2:
        look = Look.NIGHT if settings.look is Look.PAPER else Look.PAPER
        context.change_settings(_with(context, look=look))
    elif event.key == pygame.K_F3:
        face = MusicFace.HANDWRITTEN if settings.music_face is MusicFace.ENGRAVED else MusicFace.ENGRAVED
        context.change_settings(_with(context, music_face=face))
    elif event.key in (pygame.K_F6, pygame.K_F7):
        by = _SMALLER if event.key == pygame.K_F6 else _BIGGER
        space = min(LARGEST_SPACE, max(SMALLEST_SPACE, settings.staff_space_px + by))
        context.change_settings(_with(context, staff_space_px=space))
    else:
        return False
    return True


def _with(context: ScreenContext, **changes: object) -> Settings:
    return msgspec.structs.replace(context.settings, **changes)
