"""Which screen stands at a destination: those that are neither the shelf nor a page."""

from game.desk.surroundings import Surroundings
from game.screens.delay_screen import DelayScreen
from game.screens.destinations import (
    Destination,
    ToDelay,
    ToInstruments,
    ToMap,
    ToMarking,
    ToResult,
    ToSettings,
    ToSetUp,
    ToToday,
)
from game.screens.instruments_screen import InstrumentsScreen
from game.screens.map_screen import MapScreen
from game.screens.marking_screen import MarkingScreen
from game.screens.result import ResultScreen
from game.screens.screen import Screen
from game.screens.set_up_screen import SetUpScreen
from game.screens.settings_screen import SettingsScreen
from game.screens.shelf import ShelfScreen
from game.screens.today_screen import TodayScreen


def standing_at(around: Surroundings, destination: Destination) -> Screen:
    """The screen at a destination. Raises `HomefretError` where it cannot be shown."""
    screen: Screen
    match destination:
        case ToResult():
            screen = ResultScreen(around, destination)
        case ToMarking(tune):
            screen = MarkingScreen(around, tune)
        case ToMap():
            screen = MapScreen(around)
        case ToSettings():
            screen = SettingsScreen(around)
        case ToToday():
            # Without a log there is nothing to plan from.
            planning = around.planning
            screen = ShelfScreen(around) if planning is None else TodayScreen(around, planning)
        case ToInstruments():
            screen = InstrumentsScreen(around)
        case ToSetUp(device):
            screen = SetUpScreen(around, device)
        case ToDelay(device):
            screen = DelayScreen(around, device)
        case _:
            raise AssertionError(f"nothing stands at {destination}")
    return screen
