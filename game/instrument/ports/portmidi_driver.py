"""Live ports by the PortMidi inside pygame, where python-rtmidi is not installed (Python 3.13 without a
compiler).

It is asked every two milliseconds instead of calling back. It lists devices only when it starts, so new
ones are seen while none is open. Its system exclusive pieces look like no message and are read past by the
decoder.
"""

import importlib
import os
import threading
from types import ModuleType
from typing import Any

from game.instrument.decoding.device_names import unique_name
from game.instrument.ports.driver import OnMessage, OpenPort, PortError
from game.instrument.ports.quiet_stderr import quiet_standard_error
from game.message import message

_ASK_EVERY_S = 0.002
_MESSAGES_AT_ONCE = 256


class PortMidiPort:
    """An input of PortMidi, asked by a thread of its own until it fails or is closed."""

    def __init__(self, port: Any, failure: type[Exception], on_message: OnMessage) -> None:
        self._port = port
        self._failure = failure
        self._on_message = on_message
        self._previous_ms: int | None = None
        self._closing = threading.Event()
        self._thread = threading.Thread(target=self._ask, name="PortMidi", daemon=True)
        self._thread.start()

    @property
    def closed(self) -> bool:
        """Whether `close` was called."""
        return self._closing.is_set()

    @property
    def lost(self) -> bool:
        """Whether the device failed while it was listened to."""
        return not self._thread.is_alive()

    def _ask(self) -> None:
        while not self._closing.wait(_ASK_EVERY_S):
            try:
                if self._port.poll():
                    self._pass_on(self._port.read(_MESSAGES_AT_ONCE))
            except (self._failure, RuntimeError, OSError):
                return

    def _pass_on(self, received: list[Any]) -> None:
        for sent, at_ms in received:
            delta_s = 0.0 if self._previous_ms is None else (at_ms - self._previous_ms) / 1000
            self._previous_ms = at_ms
            self._on_message(sent[:3], delta_s)

    def close(self) -> None:
        """Stop asking, then close."""
        self._closing.set()
        self._thread.join(timeout=1)
        with quiet_standard_error():
            self._port.close()

    def abandon(self) -> None:
        """PortMidi closes what is gone without harm."""
        self.close()


class PortMidiDriver:
    """PortMidi through `pygame.midi`, which tests hand in as `midi`. Raises `ImportError` where pygame
    lacks it.
    """

    api = "portmidi"
    stamps = message("driver.stamps_when_asked", every_ms=round(_ASK_EVERY_S * 1000))

    def __init__(self, midi: ModuleType | None = None) -> None:
        # Imported here because it must not cost time before the first frame; pygame's greeting on standard
        # output would spoil an answer in JSON.
        os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
        self._midi: Any = midi or importlib.import_module("pygame.midi")
        self._open_ports: dict[str, PortMidiPort] = {}
        with quiet_standard_error():
            self._midi.init()

    def input_names(self) -> tuple[str, ...]:
        """Names of the inputs. Starts PortMidi anew while none is open, as it sees new devices only then."""
        self._open_ports = {name: port for name, port in self._open_ports.items() if not port.closed}
        if not self._open_ports:
            with quiet_standard_error():
                self._midi.quit()
                self._midi.init()
        lost = {name for name, port in self._open_ports.items() if port.lost}
        return tuple(name for name in self._numbered() if name not in lost)

    def _numbered(self) -> dict[str, int]:
        numbered: dict[str, int] = {}
        for number in range(self._midi.get_count()):
            _, name, is_input, _, _ = self._midi.get_device_info(number)
            if is_input:
                numbered[unique_name(name.decode(errors="replace"), numbered)] = number
        return numbered

    def open(self, port_name: str, on_message: OnMessage) -> OpenPort:
        """Listen to an input. Raises `OSError` when it cannot be opened."""
        numbered = self._numbered()
        if port_name not in numbered:
            raise PortError("driver.port_gone", port=port_name)
        try:
            with quiet_standard_error():
                port = self._midi.Input(numbered[port_name])
        except self._midi.MidiException as error:
            raise PortError("driver.port_refused", port=port_name, fault=error) from error
        opened = PortMidiPort(port, self._midi.MidiException, on_message)
        self._open_ports[port_name] = opened
        return opened

    def offer(self, name: str, on_message: OnMessage) -> None:  # noqa: ARG002 - the interface of every driver
        """PortMidi as pygame has it offers no ports of our own."""
        return

    def still_offers(self, name: str) -> bool:  # noqa: ARG002 - the interface of every driver
        """Nothing is offered that could be lost."""
        return True

    def abandon(self) -> None:
        """PortMidi lets go of what is gone without harm."""
        self.close()

    def close(self) -> None:
        """Let PortMidi go, with whatever is still open."""
        for port in self._open_ports.values():
            port.close()
        self._open_ports.clear()
        with quiet_standard_error():
            self._midi.quit()
