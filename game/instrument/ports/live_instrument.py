"""Live MIDI as the game hears it: messages in, notes out, and what came and went."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from game.errors import HomefretError
from game.instrument.decoding.channels_heard import ChannelsHeard, with_message
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.instrument_state import (
    InstrumentState,
    KeyboardSetup,
    Setup,
    finish,
    hear,
    initial_state,
    pass_time,
)
from game.instrument.decoding.keyboard import KeyboardState
from game.instrument.decoding.pedal import Pedals, pedal_pressed
from game.instrument.decoding.pitches import PitchesSetup, PitchesState
from game.instrument.decoding.played import (
    BendRangeInferred,
    NoteEvent,
    NoteFiltered,
    NoteRevised,
    NoteStarted,
    PedalPressed,
    PlaysOnOneChannel,
    RotatesChannels,
)
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings import StringsState
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.ports.device_changes import DeviceChange
from game.instrument.ports.find_driver import FoundDriver, find_driver_for_environment
from game.instrument.ports.midi_inputs import MidiInputs
from game.instrument.ports.sound_input import SoundTerms
from game.message import Message

TakenEvent = StampedMessage | NoteStarted | NoteRevised | PedalPressed | RotatesChannels | BendRangeInferred
"""What screens hear of."""

LiveEvent = TakenEvent | PlaysOnOneChannel


@dataclass(frozen=True, slots=True, kw_only=True)
class ListeningTerms:
    """How to listen: the master clock, how a device reports by its name, the controllers of the pedals that command,
    the one device that is wanted, by any part of its name (None for whichever plays), the input for `sound` by which a
    guitar is heard, None for none, and the fret of the `capo` on it.
    """

    now_s: Callable[[], float]
    setup_for: Callable[[str], Setup]
    pedals: tuple[int, ...]
    wanted: str | None = None
    sound: SoundTerms | None = None
    capo: int = 0


@dataclass(slots=True)
class _Device:
    """One device's strings, pedals, what was filtered of it, and the channels it plays on."""

    state: InstrumentState
    setup: Setup
    pedals: Pedals = field(default_factory=Pedals)
    dirt: Counter[Dirt] = field(default_factory=Counter)
    heard: ChannelsHeard = field(default_factory=ChannelsHeard)


class LiveInstrument:
    """What all devices play. `setup_for` tells how a device reports, by its name."""

    def __init__(self, inputs: MidiInputs, setup_for: Callable[[str], Setup], pedals: tuple[int, ...]) -> None:
        self._inputs = inputs
        self._setup_for = setup_for
        self._pedals = pedals
        self._devices: dict[str, _Device] = {}

    @property
    def found(self) -> Message:
        """What was found, in one sentence."""
        return self._inputs.status

    @property
    def present(self) -> bool:
        """Whether a device is listened to."""
        return bool(self._inputs.devices)

    @property
    def devices(self) -> tuple[str, ...]:
        """The names of the devices that are there for us, then of those that were heard all the same."""
        return tuple(dict.fromkeys((*self._inputs.devices, *self._devices)))

    def filtered(self, device: str) -> Counter[Dirt]:
        """What was filtered of a device since the program began, by kind."""
        return self._devices[device].dirt if device in self._devices else Counter()

    def settle(self, terms: ListeningTerms) -> None:
        """The settings have changed: ask again how every device reports, and which is wanted."""
        self._inputs.choose(terms.wanted)
        self._pedals = terms.pedals
        for name, device in self._devices.items():
            setup = self._setup_for(name)
            if setup != device.setup:
                device.setup, device.state = setup, initial_state(setup)

    def changes(self) -> tuple[DeviceChange, ...]:
        """What came and went since the last call."""
        return self._inputs.changes()

    def events(self, now_s: float) -> Iterator[LiveEvent]:
        """What happened since the last call, in order: each message as it came, and what it came to."""
        for stamped in self._inputs.drain():
            device = self._device(stamped.source)
            yield stamped
            device.pedals, is_pressed = pedal_pressed(device.pedals, stamped, self._pedals)
            if is_pressed:
                yield PedalPressed(stamped.at_s)
            yield from self._taken_for(device, stamped)
            was = device.state
            device.state, events = hear(was, stamped)
            yield from self._counted(device, events)
            yield from _found_out(was, device.state, stamped.source)
            if isinstance(device.state, StringsState) and device.state.is_mpe:
                device.state = initial_state(_pitches_only(device.setup))
                yield RotatesChannels(stamped.source)
        for device in self._devices.values():
            device.state, events = pass_time(device.state, now_s)
            yield from self._counted(device, events)

    def _device(self, name: str) -> _Device:
        if name not in self._devices:
            setup = self._setup_for(name)
            self._devices[name] = _Device(initial_state(setup), setup)
        return self._devices[name]

    def _taken_for(self, device: _Device, stamped: StampedMessage) -> Iterator[LiveEvent]:
        """Before a message is heard: a device that nobody set up is taken for a guitar, unless its channels are no
        strings; and again for a guitar once they are.
        """
        setup, was = device.setup, device.heard
        if not isinstance(setup, StringsSetup) or not setup.assumed or isinstance(device.state, PitchesState):
            return
        heard = device.heard = with_message(was, stamped.message, setup)
        if heard.are_no_strings is not isinstance(device.state, KeyboardState):
            _, events = finish(device.state, stamped.at_s)
            device.state = initial_state(KeyboardSetup() if heard.are_no_strings else setup)
            yield from self._counted(device, events)
        if (heard.are_no_strings, heard.surely) != (was.are_no_strings, was.surely) and heard.are_no_strings:
            yield PlaysOnOneChannel(stamped.source, surely=heard.surely)

    def _counted(self, device: _Device, events: tuple[NoteEvent, ...]) -> Iterator[NoteStarted | NoteRevised]:
        for event in events:
            if isinstance(event, NoteStarted | NoteRevised):
                yield event
            if isinstance(event, NoteFiltered | NoteRevised) and event.dirt is not None:
                device.dirt[event.dirt] += 1

    def close(self) -> None:
        """Let go of every port."""
        self._inputs.close()


def open_midi(terms: ListeningTerms, find: Callable[[], FoundDriver] = find_driver_for_environment) -> LiveInstrument:
    """Listen to MIDI from now on. Opening the system takes some tens of milliseconds: not before the first frame. Where
    the environment asks for a system that is none, that is what was found.
    """
    try:
        found = find()
    except HomefretError as error:
        found = FoundDriver(None, error.message)
    inputs = MidiInputs(found, terms.now_s, wanted=terms.wanted)
    inputs.watch()
    return LiveInstrument(inputs, terms.setup_for, terms.pedals)


def _found_out(was: InstrumentState, now: InstrumentState, device: str) -> Iterator[BendRangeInferred]:
    """What a message told of the device itself."""
    if isinstance(was, KeyboardState) or isinstance(now, KeyboardState):
        return
    if now.inferred_semitones is not None and now.inferred_semitones != was.inferred_semitones:
        yield BendRangeInferred(device, now.inferred_semitones)


def _pitches_only(setup: Setup) -> Setup:
    return PitchesSetup(setup.limits, setup.delay).as_mpe() if isinstance(setup, StringsSetup) else setup
