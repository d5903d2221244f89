"""Which page a stage has."""

from game.desk.surroundings import Surroundings
from game.screens.destinations import OpenTune, Stage
from game.screens.letters_page import LettersPage
from game.screens.page_screen import PageScreen
from game.screens.places_page import PlacesPage

_PAGES: dict[Stage, type[PageScreen]] = {Stage.LETTERS: LettersPage, Stage.PLACES: PlacesPage}


def page_for(around: Surroundings, tune: OpenTune) -> PageScreen:
    """The page of a tune, from its first note."""
    return _PAGES[tune.stage](around, tune)
