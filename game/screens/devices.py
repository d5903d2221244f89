"""The devices of this desk: what is played on, and what is heard. They stay when another player takes the seat."""

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from game.message import Message
from game.music.volumes import Volumes

if TYPE_CHECKING:
    from game.audio.sound import Sound
    from game.instrument.decoding.dirt import Dirt
    from game.instrument.ports.microphone import Microphone


class Instruments(Protocol):
    """The instruments that are plugged in."""

    @property
    def found(self) -> tuple[Message, ...]:
        """What was found, a sentence for each source; none where nothing was looked for."""
        ...

    @property
    def present(self) -> bool:
        """Whether one is listened to."""
        ...

    @property
    def devices(self) -> tuple[str, ...]:
        """Their names."""
        ...

    @property
    def taken_over(self) -> bool:
        """Whether a pickup plays where a microphone was listened to."""
        ...

    def filtered(self, device: str) -> "Counter[Dirt]":
        """What was filtered of one since the program began, by kind."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class StaticInstruments:
    """No MIDI: what is played is handed in. So it is before ports are opened, in the demo and in tests."""

    found: tuple[Message, ...] = ()
    present: bool = False
    devices: tuple[str, ...] = ()
    taken_over: bool = False

    def filtered(self, device: str) -> "Counter[Dirt]":  # noqa: ARG002 - part of the interface
        """Nothing."""
        return Counter()


class Devices:
    """What is plugged in and what is heard. Until a sound device was opened everything works the same in silence."""

    def __init__(self, instruments: Instruments | None = None, sound: "Sound | None" = None) -> None:
        self.instruments: Instruments = instruments or StaticInstruments()
        self._sound = sound
        self._microphone: Microphone | None = None

    @property
    def microphone(self) -> "Microphone":
        """The audio input by which a guitar is heard; one that hears nothing until instruments are listened to."""
        if self._microphone is None:
            from game.instrument.ports.microphone import Microphone  # noqa: PLC0415 - not before the first frame

            self._microphone = Microphone()
        return self._microphone

    @microphone.setter
    def microphone(self, microphone: "Microphone") -> None:
        self._microphone = microphone

    @property
    def sound(self) -> "Sound":
        """What is heard."""
        if self._sound is None:
            from game.audio.sound import silence  # noqa: PLC0415 - brings arrays with it: not before the first frame

            self._sound = silence()
        return self._sound

    @sound.setter
    def sound(self, sound: "Sound") -> None:
        self._sound = sound

    def set_volumes(self, volumes: Volumes) -> None:
        """How loud each part of the sound is from now on, and what the click sounds like. Before a sound device was
        opened that waits: it is opened as the settings are then.
        """
        if self._sound is not None:
            self._sound.set_volumes(volumes)
