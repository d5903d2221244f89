"""Which page a request has, from its first note."""

from game.player.settings import InstrumentKind
from game.practice.take_request import TakeRequest
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.reading.free_page import FreePage
from game.screens.reading.letters_page import LettersPage
from game.screens.reading.metronome_page import MetronomePage
from game.screens.reading.places_page import PlacesPage
from game.screens.reading.self_marked_page import SelfMarkedPage


def page_for(context: ScreenContext, request: TakeRequest) -> BaseScreen:
    """The page of a request."""
    if request.tempo_bpm is not None:
        return MetronomePage(context, request)
    if request.stage.rhythm_counts:
        return FreePage(context, request)
    if request.stage.named:
        return LettersPage(context, request)
    unheard = context.settings.instrument is InstrumentKind.NO_PICKUP
    return SelfMarkedPage(context, request) if unheard else PlacesPage(context, request)
