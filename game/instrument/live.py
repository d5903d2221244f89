"""Live MIDI as the game hears it: messages in, started notes out, and what came and went."""

from game.instrument.hearing import HearingState, Setup, hear, listening
from game.instrument.played import NoteStarted
from game.instrument.ports import DeviceChange, MidiInputs


class LiveInstrument:
    """One setup for all devices; each device's strings are kept apart."""

    def __init__(self, inputs: MidiInputs, setup: Setup) -> None:
        self._inputs = inputs
        self._setup = setup
        self._states: dict[str, HearingState] = {}

    @property
    def found(self) -> str:
        """What was found, in one sentence."""
        return self._inputs.status

    @property
    def present(self) -> bool:
        """Whether a device is listened to."""
        return bool(self._inputs.devices)

    def set_up(self, setup: Setup) -> None:
        """Take notes by another setup from now on."""
        if setup != self._setup:
            self._setup, self._states = setup, {}

    def changes(self) -> tuple[DeviceChange, ...]:
        """What came and went since the last call."""
        return self._inputs.changes()

    def notes(self) -> tuple[NoteStarted, ...]:
        """The notes that started since the last call, in order."""
        started = []
        for stamped in self._inputs.drain():
            state = self._states.get(stamped.source) or listening(self._setup)
            self._states[stamped.source], events = hear(state, stamped)
            started += [event for event in events if isinstance(event, NoteStarted)]
        return tuple(started)

    def close(self) -> None:
        """Let go of every port."""
        self._inputs.close()
