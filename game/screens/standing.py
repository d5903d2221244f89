"""Which screen stands at a destination: those that are neither the shelf nor a page."""

from collections.abc import Callable
from typing import Any

from game.assignments.assignment_reader import read_assignment
from game.screens.base_screen import Screen
from game.screens.choosing.account_screen import AccountScreen
from game.screens.choosing.assignment_screen import AssignmentScreen
from game.screens.choosing.shelf_screen import ShelfScreen
from game.screens.choosing.today_screen import TodayScreen
from game.screens.context import ScreenContext
from game.screens.progress.book_screen import BookScreen
from game.screens.progress.progress_screen import ProgressScreen
from game.screens.reading.marking_screen import MarkingScreen
from game.screens.reading.result_screen import ResultScreen
from game.screens.routes import (
    Destination,
    ToAccount,
    ToAssignment,
    ToBook,
    ToDelay,
    ToInstruments,
    ToMap,
    ToMarking,
    ToPlayers,
    ToProgress,
    ToResult,
    ToSettings,
    ToSetUp,
    ToToday,
)
from game.screens.setup.delay_screen import DelayScreen
from game.screens.setup.instruments_screen import InstrumentsScreen
from game.screens.setup.map_screen import MapScreen
from game.screens.setup.players_screen import PlayersScreen
from game.screens.setup.set_up_screen import SetUpScreen
from game.screens.setup.settings_screen import SettingsScreen


def standing_at(around: ScreenContext, destination: Destination) -> Screen:
    """The screen at a destination. Raises `HomefretError` where it cannot be shown."""
    return _SCREENS[type(destination)](around, destination)


def _today(around: ScreenContext, _: ToToday) -> Screen:
    """Without a log there is nothing to plan from, and the shelf stands there."""
    return ShelfScreen(around) if around.planning is None else TodayScreen(around, around.planning)


# Each function takes the destination of its own type.
_SCREENS: dict[type, Callable[[ScreenContext, Any], Screen]] = {
    ToResult: ResultScreen,
    ToMarking: lambda around, to: MarkingScreen(around, to.tune),
    ToMap: lambda around, _: MapScreen(around),
    ToSettings: lambda around, _: SettingsScreen(around),
    ToPlayers: lambda around, _: PlayersScreen(around),
    ToToday: _today,
    ToProgress: lambda around, _: ProgressScreen(around),
    ToBook: lambda around, _: BookScreen(around),
    ToAccount: lambda around, to: AccountScreen(around, to.entry, to.score),
    ToAssignment: lambda around, to: AssignmentScreen(around, to.path, read_assignment(to.path)),
    ToInstruments: lambda around, _: InstrumentsScreen(around),
    ToSetUp: lambda around, to: SetUpScreen(around, to.device),
    ToDelay: lambda around, to: DelayScreen(around, to.device),
}
