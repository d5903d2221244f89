"""How the music of a page is seen, as the player has set it: a staff that moves, or a page that stands still."""

import msgspec
import pygame

from game.practice.page_positions import numerals_on
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.reading.music_view import MusicView
from game.screens.reading.notated_music import NotatedMusic
from game.screens.reading.scrolling_music import ScrollingMusic
from game.screens.reading.still_music import StillMusic


def music_view_for(
    context: ScreenContext, request: TakeRequest, area: pygame.Rect, *, ahead_quarters: float = 0.0
) -> MusicView:
    """The music of a request whose rhythm counts. Where it moves, `ahead_quarters` of it or more are in sight ahead."""
    numerals = numerals_on(request)
    if not stands_still(context, request):
        return ScrollingMusic(context, request.passage, area, ahead_quarters=ahead_quarters, numerals=numerals)
    if request.stage.once_through:
        return NotatedMusic(context, request.score, area, numerals=numerals)
    slip = context.settings.slip and request.tempo_bpm is not None
    return StillMusic(context, request.passage, area, slip=slip, numerals=numerals)


def stands_still(context: ScreenContext, request: TakeRequest) -> bool:
    """Whether the music of a request whose rhythm counts stands still: always at first sight, else as it is set."""
    return request.stage.once_through or context.settings.still


def toggle_setting(context: ScreenContext, setting: str) -> None:
    """Put `still` or `slip` on or off."""
    settings = context.settings
    context.change_settings(msgspec.structs.replace(settings, **{setting: not getattr(settings, setting)}))
