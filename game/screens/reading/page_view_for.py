"""The page that a request is read from: what stands on it, and whether a neck is there to be played."""

from collections.abc import Callable
from functools import partial

import pygame

from game.practice.page_positions import highest_fret, numerals_on
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.reading.music_view import MusicView
from game.screens.reading.music_view_for import stands_still
from game.screens.reading.page_heading import facts_of_page, title_of
from game.screens.reading.page_view import PageView
from game.screens.reading.passage_climb import PassageClimb
from game.screens.reading.scrolling_music import ScrollingMusic


def page_view_for(
    context: ScreenContext,
    request: TakeRequest,
    music_for: Callable[[pygame.Rect], MusicView] | None = None,
    *,
    neck_shown: bool | None = None,
    climb: PassageClimb | None = None,
    asks: bool = False,
) -> PageView:
    """The page of a request: a staff that moves, unless `music_for` says otherwise. Without an instrument the neck
    is there to be played, unless `neck_shown` says otherwise or the click counts: then it comes when it is asked for.
    Where the page `asks` what its player knows it does not say where the hand is.
    """
    numerals = {} if asks or music_for else numerals_on(request)
    if neck_shown is None:
        asked = request.tempo_bpm is None or context.window.neck_in_time
        neck_shown = asked and context.listens and not context.devices.instruments.present
    return PageView(
        context=context,
        passage=request.passage,
        neck_map=request.neck_map,
        title=title_of(request),
        facts=facts_of_page(request, with_tempo=climb is None),
        climb=climb,
        clocked=request.stage.rhythm_counts or request.tempo_bpm is not None,
        letters=context.listens and not context.devices.instruments.present,
        music_for=music_for or (lambda area: ScrollingMusic(context, request.passage, area, numerals=numerals)),
        stands_still=partial(stands_still, context, request) if music_for else lambda: False,
        at_sight=bool(music_for) and request.stage.once_through,
        neck_shown=neck_shown,
        highest_fret=highest_fret(request),
    )
