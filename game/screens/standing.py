"""Which screen stands at a destination: those that are neither the shelf nor a page."""

from collections.abc import Callable
from typing import Any

from game.assignments.reading import read_assignment
from game.desk.surroundings import Surroundings
from game.screens.account_screen import AccountScreen
from game.screens.assignment_screen import AssignmentScreen
from game.screens.book_screen import BookScreen
from game.screens.delay_screen import DelayScreen
from game.screens.destinations import (
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
from game.screens.instruments_screen import InstrumentsScreen
from game.screens.map_screen import MapScreen
from game.screens.marking_screen import MarkingScreen
from game.screens.players_screen import PlayersScreen
from game.screens.progress_screen import ProgressScreen
from game.screens.result import ResultScreen
from game.screens.screen import Screen
from game.screens.set_up_screen import SetUpScreen
from game.screens.settings_screen import SettingsScreen
from game.screens.shelf import ShelfScreen
from game.screens.today_screen import TodayScreen


def standing_at(around: Surroundings, destination: Destination) -> Screen:
    """The screen at a destination. Raises `HomefretError` where it cannot be shown."""
    return _SCREENS[type(destination)](around, destination)


def _today(around: Surroundings, _: ToToday) -> Screen:
    """Without a log there is nothing to plan from, and the shelf stands there."""
    return ShelfScreen(around) if around.planning is None else TodayScreen(around, around.planning)


# Each function takes the destination of its own type.
_SCREENS: dict[type, Callable[[Surroundings, Any], Screen]] = {
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
