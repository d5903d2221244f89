"""MIDI for the screens: what is played and what is plugged in or out goes to whichever screen is there."""

from collections.abc import Callable, Iterator

from game.errors import HomefretError
from game.instrument.decoding.instrument_state import Setup
from game.instrument.ports.find_driver import FoundDriver, find_driver_for_environment
from game.instrument.ports.live_instrument import LiveEvent, LiveInstrument
from game.instrument.ports.midi_inputs import DeviceFound, DeviceLost, MidiInputs
from game.player.instrument_setup import setup_for
from game.player.settings import InstrumentKind
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.text.catalogue import say, tell


class InstrumentEvents:
    """Listens for the app. Opening the MIDI system takes some tens of milliseconds: not before the first frame."""

    def __init__(self, context: ScreenContext, find: Callable[[], FoundDriver] = find_driver_for_environment) -> None:
        try:
            found = find()
        except HomefretError as error:
            found = FoundDriver(None, tell(error.message))
        inputs = MidiInputs(found, context.clock.now_s, wanted=context.settings.device or None)
        inputs.watch()
        self._context = context
        self._settings = context.settings
        self._live = LiveInstrument(inputs, self._setup_for, context.settings.pedals)
        context.devices.instruments = self._live

    def _setup_for(self, device: str) -> Setup:
        """As the settings are now, not as they were when the program began."""
        return setup_for(self._context.settings, device)

    def news(self, screen: BaseScreen) -> None:
        """Tell a screen which instruments came and went."""
        for change in self._live.changes():
            if isinstance(change, DeviceLost):
                screen.device_lost(change.name, was_playing=change.was_playing)
            elif isinstance(change, DeviceFound):
                screen.device_found(change.name)
                self._offer_set_up(change.name)
            else:
                self._context.say(say("device.refused", device=change.name, reason=change.reason))

    def _offer_set_up(self, name: str) -> None:
        """A guitar nobody has set up yet works as most do; how to do better is said."""
        settings = self._context.settings
        if settings.instrument is InstrumentKind.GUITAR and name not in settings.devices:
            self._context.say(say("device.new", device=name))

    def events(self) -> Iterator[LiveEvent]:
        """What happened on the instruments since the last call."""
        settings = self._context.settings
        if settings is not self._settings:
            self._settings = settings
            self._live.set_up(settings.pedals)
            self._live.choose(settings.device or None)
        yield from self._live.events(self._context.clock.now_s())

    def close(self) -> None:
        """Let go of every port."""
        self._live.close()
