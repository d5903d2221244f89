"""Every source of notes there is: what it is called in the log, and those that are listened to while the game runs.

A new source is a module of its own and its lines here.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from enum import Enum
from typing import TYPE_CHECKING, Protocol

from game.instrument.decoding.capo import as_fingered
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import PlayedNote
from game.instrument.ports.device_changes import DeviceChange, DeviceLost, SystemChanged
from game.instrument.ports.live_instrument import ListeningTerms, LiveEvent, open_midi
from game.instrument.sources import computer_keys, simulated
from game.instrument.sources.takeover import Takeover, after_change, after_heard, after_pickup
from game.message import Message, message

if TYPE_CHECKING:
    from game.instrument.ports.microphone import Microphone

SCREEN_NECK_SOURCE = "neck on screen"


class PlayedOn(Enum):
    """What a take was played on, as the log keeps it: words may be added, never changed."""

    GUITAR = "guitar"
    KEYBOARD = "keyboard"
    SCREEN_NECK = "neck on screen"
    COMPUTER_KEYS = "computer keys"
    SIMULATED = "simulated player"
    NO_PICKUP = "guitar without pickup"
    HEARD = "guitar heard"


TELL_PLACES = frozenset((PlayedOn.GUITAR, PlayedOn.SCREEN_NECK, PlayedOn.COMPUTER_KEYS, PlayedOn.SIMULATED))
"""Where it is known on which string and fret a note was played; elsewhere only its pitch."""

_BY_NAME = {
    SCREEN_NECK_SOURCE: PlayedOn.SCREEN_NECK,
    computer_keys.SOURCE: PlayedOn.COMPUTER_KEYS,
    simulated.SOURCE: PlayedOn.SIMULATED,
}


def played_on(note: PlayedNote) -> PlayedOn:
    """What a note was played on: devices are known by whether they tell places, and what was heard says so."""
    if note.heard:
        return PlayedOn.HEARD
    return _BY_NAME.get(note.source, PlayedOn.KEYBOARD if note.place is None else PlayedOn.GUITAR)


class LiveSource(Protocol):
    """A source that is listened to: what comes and goes, and what is played on it."""

    @property
    def found(self) -> Message | None:
        """What was found, in one sentence; None where nothing was looked for."""
        ...

    @property
    def devices(self) -> tuple[str, ...]:
        """The names of the devices that are there for us, then of those that were heard all the same."""
        ...

    @property
    def present(self) -> bool:
        """Whether a device is listened to."""
        ...

    def filtered(self, device: str) -> Counter[Dirt]:
        """What was filtered of a device since the program began, by kind."""
        ...

    def settle(self, terms: ListeningTerms) -> None:
        """The settings have changed."""
        ...

    def changes(self) -> tuple[DeviceChange, ...]:
        """What came and went since the last call."""
        ...

    def events(self, now_s: float) -> Iterator[LiveEvent]:
        """What happened since the last call, in order."""
        ...

    def close(self) -> None:
        """Let go of every port."""
        ...


def open_microphone(terms: ListeningTerms) -> LiveSource:
    """Listen to the audio input that was chosen, where one was."""
    from game.instrument.ports.microphone import Microphone  # noqa: PLC0415 - not before the first frame

    return Microphone(terms.now_s, terms.sound)


OpenSource = Callable[[ListeningTerms], LiveSource]

LISTENED_TO: tuple[OpenSource, ...] = (open_midi, open_microphone)
"""What is opened when the game starts."""


class LiveSources:
    """Several sources, heard as one."""

    def __init__(self, terms: ListeningTerms, opened: Sequence[OpenSource] = LISTENED_TO) -> None:
        self._sources = tuple(open_source(terms) for open_source in opened)
        self._takeover = Takeover()
        self._capo = terms.capo
        from game.instrument.ports.microphone import Microphone  # noqa: PLC0415 - not before the first frame

        self._microphone = next((source for source in self._sources if isinstance(source, Microphone)), None)

    @property
    def microphone(self) -> "Microphone | None":
        """The one among them by which a guitar is heard, None where there is none."""
        return self._microphone

    @property
    def found(self) -> tuple[Message, ...]:
        """What was found, a sentence for each source that looked for something."""
        return tuple(found for source in self._sources if (found := source.found) is not None)

    @property
    def devices(self) -> tuple[str, ...]:
        """The names of all devices."""
        return tuple(dict.fromkeys(name for source in self._sources for name in source.devices))

    @property
    def present(self) -> bool:
        """Whether any device is listened to."""
        return any(source.present for source in self._sources)

    @property
    def taken_over(self) -> bool:
        """Whether a pickup plays where a microphone was listened to."""
        return self._microphone is not None and self._takeover.pickup is not None

    def filtered(self, device: str) -> Counter[Dirt]:
        """What was filtered of a device since the program began, by kind."""
        return sum((source.filtered(device) for source in self._sources), Counter[Dirt]())

    def settle(self, terms: ListeningTerms) -> None:
        """The settings have changed."""
        self._capo = terms.capo
        for source in self._sources:
            source.settle(terms)

    def changes(self) -> tuple[DeviceChange, ...]:
        """What came and went since the last call. A pickup that went gives back to the microphone it took over from."""
        changes: list[DeviceChange] = []
        for source in self._sources:
            for change in source.changes():
                if source is self._microphone:
                    changes.append(self._of_microphone(change))
                else:
                    changes += self._of_instrument(change)
        return tuple(changes)

    def _of_instrument(self, change: DeviceChange) -> Iterator[DeviceChange]:
        """Where a microphone hears on, no take waits for a pickup that went."""
        before, self._takeover = self._takeover, after_change(self._takeover, change)
        gives_back = before.pickup is not None and self._takeover.pickup is None
        if isinstance(change, DeviceLost) and gives_back and self._microphone is not None and self._microphone.present:
            yield replace(change, was_playing=False)
            (name,) = self._microphone.devices
            yield SystemChanged(message("sound_input.hears_on", device=change.name, input=name))
        else:
            yield change

    def _of_microphone(self, change: DeviceChange) -> DeviceChange:
        """While a pickup plays no take waits for a microphone."""
        if isinstance(change, DeviceLost) and self._takeover.pickup is not None:
            return replace(change, was_playing=False)
        return change

    def events(self, now_s: float) -> Iterator[LiveEvent]:
        """What happened since the last call, in order for each source, its notes as they were fingered from the capo.
        Once a pickup plays, the microphone does not.
        """
        for source in self._sources:
            step = after_heard if source is self._microphone else after_pickup
            for event in source.events(now_s):
                self._takeover, passed = step(self._takeover, event)
                yield from (as_fingered(one, self._capo) for one in passed)

    def close(self) -> None:
        """Let go of every port."""
        for source in self._sources:
            source.close()
