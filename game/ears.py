"""MIDI for the screens: what is played and what is plugged in or out goes to whichever screen is there."""

from collections.abc import Iterator

from game.desk.surroundings import Surroundings
from game.desk.words import say
from game.errors import HomefretError
from game.instrument.find_driver import FoundDriver, find_driver_for_environment
from game.instrument.hearing import KeyboardSetup, Setup
from game.instrument.live import LiveInstrument
from game.instrument.played import NoteStarted
from game.instrument.ports import DeviceFound, DeviceLost, MidiInputs
from game.instrument.strings_setup import StringsSetup, channels_from
from game.neck.tuning import tuning_named
from game.screens.screen import Screen
from game.settings import InstrumentKind, Settings


class Ears:
    """Listens for the app. Opening the MIDI system takes some tens of milliseconds: not before the first frame."""

    def __init__(self, around: Surroundings) -> None:
        try:
            found = find_driver_for_environment()
        except HomefretError as error:
            found = FoundDriver(None, str(error))
        inputs = MidiInputs(found, around.clock.now_s)
        inputs.watch()
        self._around = around
        self._live = LiveInstrument(inputs, setup_from(around.settings))
        self._tell_what_is_there()

    def news(self, screen: Screen) -> None:
        """Tell a screen which instruments came and went."""
        for change in self._live.changes():
            if isinstance(change, DeviceLost):
                screen.device_lost(change.name, was_playing=change.was_playing)
            elif isinstance(change, DeviceFound):
                screen.device_found(change.name)
            else:
                self._around.say(say("device.refused", device=change.name, reason=change.reason))
            self._tell_what_is_there()

    def notes(self) -> Iterator[NoteStarted]:
        """The notes that started since the last call."""
        self._live.set_up(setup_from(self._around.settings))
        yield from self._live.notes()

    def close(self) -> None:
        """Let go of every port."""
        self._live.close()

    def _tell_what_is_there(self) -> None:
        self._around.found = self._live.found
        self._around.instrument_present = self._live.present


def setup_from(settings: Settings) -> Setup:
    """How the player's MIDI instrument reports."""
    if settings.instrument is InstrumentKind.KEYBOARD:
        return KeyboardSetup()
    return StringsSetup(
        channels=channels_from(settings.base_channel), tuning=tuning_named(settings.tuning), frets=settings.frets
    )
