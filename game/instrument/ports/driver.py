"""The tiny interface behind which the MIDI systems stand."""

from collections.abc import Callable
from typing import Protocol

# Called in the driver's thread, first thing: the message, and the driver's own seconds since its last one.
OnMessage = Callable[[bytes | list[int], float], None]


class OpenPort(Protocol):
    """A port that is listened to."""

    def close(self) -> None:
        """Stop listening. Harmless on a device that is gone."""
        ...


class Driver(Protocol):
    """One MIDI system of the computer. Every method may raise `OSError` when the system goes away."""

    @property
    def api(self) -> str:
        """Which: "alsa", "jack", "coremidi", "winmm" or "portmidi"."""
        ...

    @property
    def stamps(self) -> str:
        """How exact its times are, in words."""
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

    def close(self) -> None:
        """Let go of the system."""
        ...
