"""The tiny interface behind which the MIDI systems stand."""

from collections.abc import Callable
from typing import Protocol

from game.message import Message, message, verbatim

# Called in the driver's thread, first thing: the message, and the driver's own seconds since its last one.
OnMessage = Callable[[bytes | list[int], float], None]


class PortError(OSError):
    """A port that cannot be listened to, or a system that is not there."""

    def __init__(self, key: str, /, **values: object) -> None:
        self.message = message(key, **values)
        super().__init__(self.message)


def refusal_of(error: OSError) -> Message:
    """Why a port or a system refused: in our words, or in its own."""
    return error.message if isinstance(error, PortError) else verbatim(str(error))


class OpenPort(Protocol):
    """A port that is listened to."""

    def close(self) -> None:
        """Stop listening. Harmless on a device that is gone."""
        ...

    def abandon(self) -> None:
        """Leave it as it is, for its system is gone: nothing more may be asked of that."""
        ...


class Driver(Protocol):
    """One MIDI system of the computer. Every method may raise `OSError` when the system goes away."""

    @property
    def api(self) -> str:
        """Which: "alsa", "jack", "coremidi", "winmm" or "portmidi"."""
        ...

    @property
    def stamps(self) -> Message:
        """How exact its times are."""
        ...

    def input_names(self) -> tuple[str, ...]:
        """Names of the ports that can be listened to now, each once. Cheap enough for once a second."""
        ...

    def open(self, port_name: str, on_message: OnMessage) -> OpenPort:
        """Listen to a port of `input_names`, afresh each time: a device that came back needs a new one."""
        ...

    def offer(self, name: str, on_message: OnMessage) -> OpenPort | None:
        """A port of our own that other programs can be wired to; None where the system has no such thing."""
        ...

    def still_offers(self, name: str) -> bool:
        """Whether the port offered as `name` is there still: a system that was started anew has lost it. May cost
        milliseconds, and in JACK notes.
        """
        ...

    def abandon(self) -> None:
        """Leave it as it is, for the system is gone."""
        ...

    def close(self) -> None:
        """Let go of the system."""
        ...
