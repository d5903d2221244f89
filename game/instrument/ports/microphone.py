"""A guitar that is heard: notes in, what comes and goes, how loud it is. The sound itself stays in another process."""

from collections import Counter
from collections.abc import Iterator

from game.instrument.decoding.dirt import Dirt
from game.instrument.ports.device_changes import DeviceChange
from game.instrument.ports.live_instrument import ListeningTerms, LiveEvent
from game.instrument.ports.sound_input import RecordedSound, SoundLevel, SoundTerms, Tone
from game.message import Message


class Microphone:
    """The input for sound that the player chose. Without one nothing is opened, and no process begins."""

    def __init__(self, terms: SoundTerms | None = None) -> None:
        self._terms = terms

    @property
    def found(self) -> Message | None:
        """What was found, in one sentence; None while no input is chosen."""
        return None

    @property
    def devices(self) -> tuple[str, ...]:
        """The name of the input, while it is listened to."""
        return ()

    @property
    def present(self) -> bool:
        """Whether it is listened to."""
        return bool(self.devices)

    @property
    def level(self) -> SoundLevel | None:
        """How loud it was of late, some ten times a second; None while nothing is listened to."""
        return None

    @property
    def tone(self) -> Tone | None:
        """The pitch that sounds now, twenty times a second; None in silence. It is worked out while it is asked for."""
        return None

    @property
    def trouble(self) -> Message | None:
        """Why the chosen input is not listened to, and what to do; None where it is, or none is chosen."""
        return None

    def record(self, seconds: float) -> None:
        """Record so many seconds from now on, 60 at most, in memory only. What was recorded before is given up."""

    def recorded(self) -> RecordedSound | None:
        """What was recorded, once it is complete; None before, and where nothing is listened to."""
        return None

    def inputs(self) -> tuple[str, ...]:
        """The names of the inputs that there are now. Asks the system, which takes up to seconds: never in a take.
        Empty where there are none, or the library is missing: then `trouble` says so.
        """
        return ()

    def filtered(self, device: str) -> Counter[Dirt]:  # noqa: ARG002 - part of the interface
        """What was heard for a note, and then was none, by kind."""
        return Counter()

    def settle(self, terms: ListeningTerms) -> None:
        """The settings have changed."""
        self._terms = terms.sound

    def changes(self) -> tuple[DeviceChange, ...]:
        """What came and went since the last call."""
        return ()

    def events(self, now_s: float) -> Iterator[LiveEvent]:  # noqa: ARG002 - part of the interface
        """What was heard since the last call, in order."""
        yield from ()

    def close(self) -> None:
        """Stop listening."""


def open_microphone(terms: ListeningTerms) -> Microphone:
    """Listen to the chosen input from now on, where one is chosen."""
    return Microphone(terms.sound)
