"""Which screen stands at a route, with its music made first where it has to be."""

from random import Random
from typing import assert_never

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
from game.screens.choosing.next_map_screen import NextMapScreen
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
    ToMapByPlaying,
    ToMaps,
    ToMarking,
    ToMicrophone,
    ToMicrophones,
    ToNextMap,
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
    ToTuner,
    ToTuning,
    ToUnseenLine,
)
from game.screens.setup.damage_screen import DamageScreen
from game.screens.setup.delay_screen import DelayScreen
from game.screens.setup.instruments_screen import InstrumentsScreen
from game.screens.setup.map_by_playing_screen import MapByPlayingScreen
from game.screens.setup.map_screen import MapScreen
from game.screens.setup.maps_screen import MapsScreen
from game.screens.setup.microphone_screen import MicrophoneScreen
from game.screens.setup.microphones_screen import MicrophonesScreen
from game.screens.setup.players_screen import PlayersScreen
from game.screens.setup.set_up_screen import SetUpScreen
from game.screens.setup.settings_screen import SettingsScreen
from game.screens.setup.sharing_screen import SharingScreen
from game.screens.setup.tuner_screen import TunerScreen
from game.screens.setup.tuning_screen import TuningScreen
from game.screens.writing.entering_screen import EnteringScreen
from game.screens.writing.from_paper_screen import FromPaperScreen
from game.screens.writing.paper_practice_screen import PaperPracticeScreen

_Maps = ToMap | ToMaps | ToMapByPlaying
_Tab = ToShelf | ToLines | _Maps | ToProgress | ToBook | ToSettings
_Beginning = ToToday | Back | ToFirstStart | ToGoodNight | ToDamage
_Choosing = ToProgramme | ToCourses | ToNextMap | ToAssignment | ToImportSummary | ToImportAccount
_Writing = ToFromPaper | ToEntering | ToPaperPractice
_Heard = ToMicrophones | ToMicrophone | ToTuner | ToTuning
_Setup = ToSharing | ToPlayers | ToInstruments | ToSetUp | ToDelay | _Heard
_Playing = ToPage | ToFreshLine | ToUnseenLine | ToSibling | ToAssigned | ToPlacing
_Played = ToListening | ToMarking | ToResult | ToSigning


def screen_for(context: ScreenContext, route: Route, chance: Random) -> BaseScreen | None:
    """The screen at a route, None out of the game. Raises `HomefretError` where it cannot be shown, or its music is not
    to be had.
    """
    match route:
        case Leave():
            return None
        case ToPlanned():
            return screen_for(context, planned_route(context, route, chance), chance)
        case ToPage() | ToFreshLine() | ToUnseenLine() | ToSibling() | ToAssigned() | ToPlacing():
            return _playing(context, route, chance)
        case ToListening() | ToMarking() | ToResult() | ToSigning():
            return _played(context, route)
        case _:
            return _sheet(context, route)


def _sheet(context: ScreenContext, route: _Tab | _Beginning | _Choosing | _Writing | _Setup) -> BaseScreen:
    """Where nothing is played."""
    match route:
        case ToShelf() | ToLines() | ToProgress() | ToBook() | ToSettings() | ToMap() | ToMaps() | ToMapByPlaying():
            return _tab(context, route)
        case ToToday() | Back() | ToFirstStart() | ToGoodNight() | ToDamage():
            return _beginning(context, route)
        case ToProgramme() | ToCourses() | ToNextMap() | ToAssignment() | ToImportSummary() | ToImportAccount():
            return _choosing(context, route)
        case ToFromPaper() | ToEntering() | ToPaperPractice():
            return _writing(context, route)
        case _:
            return _setup(context, route)


def _tab(context: ScreenContext, route: _Tab) -> BaseScreen:
    """The sheets behind the tabs, with what lies behind the map; that of today is where one begins."""
    match route:
        case ToShelf():
            return ShelfScreen(context)
        case ToLines():
            return LinesScreen(context)
        case ToMap() | ToMaps() | ToMapByPlaying():
            return _maps(context, route)
        case ToProgress():
            return ProgressScreen(context)
        case ToBook():
            return BookScreen(context)
        case ToSettings():
            return SettingsScreen(context)
        case _:
            assert_never(route)


def _maps(context: ScreenContext, route: _Maps) -> BaseScreen:
    """The map in use, and what leads to others."""
    match route:
        case ToMap():
            return MapScreen(context)
        case ToMaps(chosen):
            return MapsScreen(context, chosen)
        case ToMapByPlaying():
            return MapByPlayingScreen(context)
        case _:
            assert_never(route)


def _beginning(context: ScreenContext, route: _Beginning) -> BaseScreen:
    """Where a sitting begins, is taken up again, and ends."""
    match route:
        case ToToday() | Back():
            return TodayScreen(context)
        case ToFirstStart():
            return FirstStartScreen(context)
        case ToGoodNight():
            return GoodNightScreen(context)
        case ToDamage():
            found = context.session.log.damage
            return DamageScreen(context, found) if found else ShelfScreen(context)
        case _:
            assert_never(route)


def _choosing(context: ScreenContext, route: _Choosing) -> BaseScreen:
    """What else there is to choose from, and what came onto the shelf."""
    match route:
        case ToProgramme(picked):
            return ProgrammeScreen(context, picked)
        case ToCourses():
            return CoursesScreen(context)
        case ToNextMap():
            return NextMapScreen(context)
        case ToAssignment(assignment):
            return AssignmentScreen(context, context.session.assignments.of(assignment))
        case ToImportSummary(entry, score):
            return ImportSummaryScreen(context, entry, score)
        case ToImportAccount(outcome):
            return ImportAccountScreen(context, outcome)
        case _:
            assert_never(route)


def _writing(context: ScreenContext, route: _Writing) -> BaseScreen:
    """Music that is on paper."""
    match route:
        case ToFromPaper():
            return FromPaperScreen(context)
        case ToEntering(path, draft):
            return EnteringScreen(context, path, draft)
        case ToPaperPractice():
            return PaperPracticeScreen(context)
        case _:
            assert_never(route)


def _setup(context: ScreenContext, route: _Setup) -> BaseScreen:
    """Players, computers and instruments."""
    match route:
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
        case ToMicrophones() | ToMicrophone() | ToTuner() | ToTuning():
            return _heard(context, route)
        case _:
            assert_never(route)


def _heard(context: ScreenContext, route: _Heard) -> BaseScreen:
    """How a plain guitar is heard, and how any is tuned."""
    match route:
        case ToMicrophones(first):
            return MicrophonesScreen(context, first=first)
        case ToMicrophone(name, first):
            return MicrophoneScreen(context, name, first=first)
        case ToTuner():
            return TunerScreen(context)
        case ToTuning():
            return TuningScreen(context)
        case _:
            assert_never(route)


def _playing(context: ScreenContext, route: _Playing, chance: Random) -> BaseScreen:
    """Where music is read, which may have to be made first."""
    match route:
        case ToPage(request, chosen):
            return page_for(context, request if chosen else _as_coached(context, request))
        case ToFreshLine():
            return page_for(context, _as_coached(context, fresh_line_request(context, chance)))
        case ToUnseenLine(key):
            return page_for(context, fresh_line_request(context, chance, key).at_sight())
        case ToSibling(request):
            return page_for(context, _as_coached(context, sibling_request(context, request, chance)))
        case ToAssigned():
            return page_for(context, assigned_request(context, route, chance))
        case ToPlacing():
            return PlacingPage(context, next_placing(context, route, chance))
        case _:
            assert_never(route)


def _played(context: ScreenContext, route: _Played) -> BaseScreen:
    """What became of it, and what is only heard."""
    match route:
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
    return request.as_decided(context.session.coach.open_passage(request.passage, target_bpm=request.target_bpm))
