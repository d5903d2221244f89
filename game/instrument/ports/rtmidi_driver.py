"""Live ports by python-rtmidi: ALSA, JACK, CoreMIDI, Windows MM. Notes are stamped in the driver's
callback.
"""

import ctypes
import os
import time
from typing import Any

from game.instrument.decoding.device_names import unique_name
from game.instrument.ports.driver import OnMessage, OpenPort, PortError
from game.instrument.ports.quiet_stderr import quiet_standard_error
from game.message import message

CLIENT_NAME = "Homefret"
PORT_NAME = "input"

# RtMidi's own numbers would do, but are only known once it is imported.
_API_CONSTANTS = {
    "coremidi": "API_MACOSX_CORE",
    "winmm": "API_WINDOWS_MM",
    "alsa": "API_LINUX_ALSA",
    "jack": "API_UNIX_JACK",
}
API_NAMES = tuple(_API_CONSTANTS)


_CALLBACK_ENDS_S = 0.005


def _keep_for_good(client: Any) -> None:
    """Never let a client of a dead server go. Closing it waits for that server without end, or, once there is a new
    one, closes what is ours there. Nor may Python do so when the program ends: hence one reference too many.
    """
    ctypes.pythonapi.Py_IncRef(ctypes.py_object(client))


class RtMidiPort:
    """A `MidiIn` with its callback."""

    def __init__(self, midi_in: Any, on_message: OnMessage) -> None:
        # Nothing is ignored: the driver's times count from the last message of any kind, so leaving out
        # clock or system exclusive would make them useless for putting late stamps right.
        midi_in.ignore_types(sysex=False, timing=False, active_sense=False)
        midi_in.set_callback(lambda event, _: on_message(event[0], event[1]))
        self._midi_in = midi_in

    def close(self) -> None:
        """Stop listening and give the client back to the system."""
        with quiet_standard_error():
            self._midi_in.cancel_callback()
            # A driver may close a port only once its thread is through, and that may stand in our callback, waiting for
            # the interpreter: it gets it now, for closing need not let go of it.
            time.sleep(_CALLBACK_ENDS_S)
            self._midi_in.close_port()
            self._midi_in.delete()

    def abandon(self) -> None:
        """Leave the client of a server that is gone."""
        _keep_for_good(self._midi_in)


class RtMidiDriver:
    """One of RtMidi's systems, with one scanner object kept to list ports.

    Raises `OSError` where the system is not there, and `ImportError` where python-rtmidi is not.
    """

    stamps = message("driver.stamps_on_arrival")

    def __init__(self, api: str) -> None:
        # Never start a JACK server: the sound of the machine is not ours to take.
        os.environ.setdefault("JACK_NO_START_SERVER", "1")
        import rtmidi  # noqa: PLC0415 - not before the first frame

        self.api = api
        self._rtmidi = rtmidi
        self._constant = getattr(rtmidi, _API_CONSTANTS[api])
        self._scanner = self._midi_in(f"{CLIENT_NAME} scanner")

    def _midi_in(self, client_name: str) -> Any:
        if self._constant not in self._rtmidi.get_compiled_api():
            raise PortError("driver.not_built_in", system=self.api)
        with quiet_standard_error():
            return self._rtmidi.MidiIn(self._constant, client_name, queue_size_limit=1)

    def input_names(self) -> tuple[str, ...]:
        """Names of the ports that can be listened to now; namesakes get " #2" and so on."""
        names: list[str] = []
        for name in self._scanner.get_ports():
            names.append(unique_name(name, names))
        return tuple(names)

    def open(self, port_name: str, on_message: OnMessage) -> OpenPort:
        """A new `MidiIn` on the port. Raises `OSError` when it went away since it was listed."""
        names = self.input_names()
        if port_name not in names:
            raise PortError("driver.port_gone", port=port_name)
        midi_in = self._midi_in(f"{CLIENT_NAME} listener")
        with quiet_standard_error():
            midi_in.open_port(names.index(port_name), PORT_NAME)
        return RtMidiPort(midi_in, on_message)

    def offer(self, name: str, on_message: OnMessage) -> OpenPort | None:
        """A virtual port; Windows MM has none."""
        if self.api == "winmm":
            return None
        midi_in = self._midi_in(name)
        with quiet_standard_error():
            midi_in.open_virtual_port(PORT_NAME)
        return RtMidiPort(midi_in, on_message)

    def still_offers(self, name: str) -> bool:
        """Asks JACK by a client of its own: those of before a restart see what was, for good. Other systems stay as
        long as the computer runs. Raises `OSError` while there is no server.
        """
        if self.api != "jack":
            return True
        with quiet_standard_error():
            probe = self._rtmidi.MidiOut(self._constant, f"{CLIENT_NAME} probe")
            ports = probe.get_ports()
            probe.delete()
        return any(port.startswith(name) for port in ports)

    def abandon(self) -> None:
        """Leave the scanner of a server that is gone."""
        _keep_for_good(self._scanner)

    def close(self) -> None:
        """Let the scanner go."""
        with quiet_standard_error():
            self._scanner.delete()


def compiled_apis() -> tuple[str, ...]:
    """The systems this python-rtmidi can speak to, the computer's own before JACK.

    Raises `ImportError` where python-rtmidi is not installed.
    """
    import rtmidi  # noqa: PLC0415 - not before the first frame

    compiled = rtmidi.get_compiled_api()
    return tuple(api for api, constant in _API_CONSTANTS.items() if getattr(rtmidi, constant, None) in compiled)
