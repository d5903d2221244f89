"""Which screen stands at a route, with its music made first where it has to be."""

from random import Random
from typing import assert_never

from game.assignments.assignment_reader import read_assignment
from game.practice.take_request import TakeRequest
from game.screens.base_screen import BaseScreen
from game.screens.choosing.assigned_request import assigned_request
from game.screens.choosing.assignment_screen import AssignmentScreen
from game.screens.choosing.courses_screen import CoursesScreen
from game.screens.choosing.first_start_screen import FirstStartScreen
from game.screens.choosing.fresh_requests import fresh_line_request, sibling_request
from game.screens.choosing.good_night_screen import GoodNightScreen
from game.screens.choosing.import_account_screen import ImportAccountScreen
from game.screens.choosing.import_summary_screen import ImportSummaryScreen
from game.screens.choosing.lines_screen import LinesScreen
from game.screens.choosing.planned_route import planned_route
from game.screens.choosing.programme_screen import ProgrammeScreen
from game.screens.choosing.shelf_screen import ShelfScreen
from game.screens.choosing.today_screen import TodayScreen
from game.screens.context import ScreenContext
from game.screens.progress.book_screen import BookScreen
from game.screens.progress.progress_screen import ProgressScreen
from game.screens.reading.listening_screen import ListeningScreen
from game.screens.reading.marking_screen import MarkingScreen
from game.screens.reading.page_for import page_for
from game.screens.reading.placing_page import PlacingPage, next_placing
from game.screens.reading.result_screen import ResultScreen
from game.screens.reading.signing_screen import SigningScreen
from game.screens.routes import (
    Back,
    Leave,
    Route,
    ToAssigned,
    ToAssignment,
    ToBook,
    ToCourses,
    ToDamage,
    ToDelay,
    ToEntering,
    ToFirstStart,
    ToFreshLine,
    ToFromPaper,
    ToGoodNight,
    ToImportAccount,
    ToImportSummary,
    ToInstruments,
    ToLines,
    ToListening,
    ToMap,
    ToMarking,
    ToPage,
    ToPaperPractice,
    ToPlacing,
    ToPlanned,
    ToPlayers,
    ToProgramme,
    ToProgress,
    ToResult,
    ToSettings,
    ToSetUp,
    ToSharing,
    ToShelf,
    ToSibling,
    ToSigning,
    ToToday,
    ToUnseenLine,
)
from game.screens.setup.damage_screen import DamageScreen
from game.screens.setup.delay_screen import DelayScreen
from game.screens.setup.instruments_screen import InstrumentsScreen
from game.screens.setup.map_screen import MapScreen
from game.screens.setup.players_screen import PlayersScreen
from game.screens.setup.set_up_screen import SetUpScreen
from game.screens.setup.settings_screen import SettingsScreen
from game.screens.setup.sharing_screen import SharingScreen
from game.screens.writing.entering_screen import EnteringScreen
from game.screens.writing.from_paper_screen import FromPaperScreen
from game.screens.writing.paper_practice_screen import PaperPracticeScreen


def screen_for(  # noqa: C901, PLR0911, PLR0912 - one line a route
    context: ScreenContext, route: Route, chance: Random
) -> BaseScreen | None:
    """The screen at a route, None out of the game. Raises `HomefretError` where it cannot be shown, or its music is not
    to be had.
    """
    match route:
        case Leave():
            return None
        case ToShelf():
            return ShelfScreen(context)
        case ToToday() | Back():
            return TodayScreen(context)
        case ToImportSummary(entry, score):
            return ImportSummaryScreen(context, entry, score)
        case ToImportAccount(outcome):
            return ImportAccountScreen(context, outcome)
        case ToAssignment(path):
            return AssignmentScreen(context, path, read_assignment(path))
        case ToLines():
            return LinesScreen(context)
        case ToProgress():
            return ProgressScreen(context)
        case ToBook():
            return BookScreen(context)
        case ToMap():
            return MapScreen(context)
        case ToSettings():
            return SettingsScreen(context)
        case ToSharing():
            return SharingScreen(context)
        case ToPlayers():
            return PlayersScreen(context)
        case ToInstruments():
            return InstrumentsScreen(context)
        case ToSetUp(device):
            return SetUpScreen(context, device)
        case ToDelay(device):
            return DelayScreen(context, device)
        case ToFromPaper():
            return FromPaperScreen(context)
        case ToEntering(path, draft):
            return EnteringScreen(context, path, draft)
        case ToProgramme(picked):
            return ProgrammeScreen(context, picked)
        case ToCourses():
            return CoursesScreen(context)
        case ToPaperPractice():
            return PaperPracticeScreen(context)
        case ToDamage():
            found = context.session.log.damage
            return DamageScreen(context, found) if found else ShelfScreen(context)
        case ToFirstStart():
            return FirstStartScreen(context)
        case ToGoodNight():
            return GoodNightScreen(context)
        case ToPlanned():
            return screen_for(context, planned_route(context, route, chance), chance)
        case _:
            return _reading(context, route, chance)


_Reading = (
    ToListening
    | ToPage
    | ToFreshLine
    | ToUnseenLine
    | ToSibling
    | ToAssigned
    | ToPlacing
    | ToMarking
    | ToResult
    | ToSigning
)


def _reading(  # noqa: C901, PLR0911 - one line a route
    context: ScreenContext, route: _Reading, chance: Random
) -> BaseScreen:
    """Where music is read, and what became of it."""
    match route:
        case ToPage(request, chosen):
            return page_for(context, request if chosen else _as_coached(context, request))
        case ToFreshLine():
            return page_for(context, _as_coached(context, fresh_line_request(context, chance)))
        case ToUnseenLine(key):
            return page_for(context, fresh_line_request(context, chance, key).at_sight())
        case ToSibling(request):
            return page_for(context, _as_coached(context, sibling_request(context, request, chance)))
        case ToAssigned(folder, part):
            assigned = assigned_request(context, folder, part, chance)
            return page_for(context, assigned if part.stages else _as_coached(context, assigned))
        case ToPlacing():
            return PlacingPage(context, next_placing(context, route, chance))
        case ToListening(request):
            return ListeningScreen(context, request)
        case ToMarking(request):
            return MarkingScreen(context, request)
        case ToResult():
            return ResultScreen(context, route)
        case ToSigning():
            return SigningScreen(context, route)
        case _:
            assert_never(route)


def _as_coached(context: ScreenContext, request: TakeRequest) -> TakeRequest:
    """The request in the stage and at the tempo the coach wants."""
    return request.as_decided(context.session.coach.open_passage(request.passage))
