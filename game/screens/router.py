"""What stands at a destination: its screen, with the music made first where it has to be."""

from random import Random

from game.coach.placing.placing_test import begin_placing
from game.screens.base_screen import Screen
from game.screens.choosing import line_on_desk
from game.screens.choosing.assignment_screen import open_assigned
from game.screens.choosing.planned_music import next_planned, open_planned, wants_other_music
from game.screens.choosing.shelf_screen import ShelfScreen
from game.screens.context import ScreenContext
from game.screens.reading.page_for import page_for
from game.screens.reading.placing_page import PlacingPage, question_after
from game.screens.routes import (
    Destination,
    TakeRequest,
    ToAssigned,
    ToFreshLine,
    ToPage,
    ToPlacing,
    ToPlanned,
    ToShelf,
    ToSibling,
    ToToday,
)
from game.screens.standing import standing_at


def built(around: ScreenContext, destination: Destination, chance: Random) -> Screen:
    """The screen at a destination. Raises `HomefretError` where it cannot be shown, or its music is not to be had."""
    destination = _with_music(around, destination, chance)
    match destination:
        case ToShelf():
            return ShelfScreen(around)
        case ToPlacing(test, asked):
            question = question_after(around, test or begin_placing(), asked, chance)
            assert question is not None, "a test that is over leads elsewhere"
            return PlacingPage(around, question)
        case ToPage():
            return page_for(around, _coached(around, destination))
    return standing_at(around, destination)


def _with_music(around: ScreenContext, destination: Destination, chance: Random) -> Destination:
    """Where music is to be made first: the page with that music on it."""
    match destination:
        case ToFreshLine():
            return ToPage(line_on_desk.open_fresh_line(around, chance))
        case ToSibling(tune):
            return ToPage(line_on_desk.open_sibling(around, tune, chance))
        case ToAssigned(folder, part):
            return ToPage(open_assigned(around, folder, part, chance), chosen=bool(part.stages))
        case ToPlanned():
            return _planned(around, destination, chance)
    return destination


def _planned(around: ScreenContext, destination: ToPlanned, chance: Random) -> Destination:
    """The music of the step that stands next, what follows a take of it, or the plan when the step is over."""
    planning, after = around.planning, destination.after
    if planning is None:
        return ToShelf()
    if after is None:
        return ToPage(open_planned(around, planning, chance), chosen=True)
    tune = next_planned(planning, after.tune, after.decision)
    if tune is not None:
        return ToPage(tune, chosen=True)
    if wants_other_music(planning):
        return ToPage(open_planned(around, planning, chance), chosen=True)
    planning.step_over()
    return ToToday()


def _coached(around: ScreenContext, destination: ToPage) -> TakeRequest:
    """The tune in the stage and at the tempo the coach wants, unless the player chose."""
    tune, coaching = destination.tune, around.coaching
    if destination.chosen or coaching is None:
        return tune
    return tune.told(coaching.opened(tune.passage))
