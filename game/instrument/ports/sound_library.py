"""The audio inputs of this computer by the library sounddevice, over PortAudio. Used in the listening process
alone.
"""

import importlib
import os
import queue
import re
import sys
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import Any

import numpy as np
from numpy.typing import NDArray

from game.instrument.decoding.device_names import unique_name
from game.instrument.listening.stepped_sound import HIGHEST_RATE, LOWEST_RATE
from game.instrument.ports.driver import PortError
from game.instrument.ports.quiet_stderr import quiet_standard_error
from game.instrument.ports.sound_input import SoundInput

_USUAL_RATES = (48_000, 44_100, 96_000, 192_000)
# In ALSA the numbers of card and device stand behind the name, and change with what else is plugged in.
_ALSA_NUMBERS = re.compile(r" *\((?:plug)?hw:\d+(?:,\d+)?\)$")
# Of the systems that show each input once more, the one with the least delay that shares it with other programs (mem:
# PortAudio on Windows has MME, DirectSound, WASAPI and WDM-KS, the last of which takes an input for itself).
_BEST_OF_WINDOWS = ("Windows WASAPI", "Windows DirectSound", "MME")
# PortAudio's own numbers of what can be wrong (mem: portaudio.h, PaErrorCode).
_INVALID_CHANNELS, _INVALID_RATE, _UNAVAILABLE = -9998, -9997, -9985

Block = tuple[float, NDArray[np.float32], bool]
"""When it arrived, its samples, and whether some before it were lost."""


class OpenInput:
    """One channel of an input that is listened to. What arrives is stamped and copied by the library's own thread,
    which does nothing else; `blocks` holds it.
    """

    def __init__(self, library: Any, found: "_Found", channel: int) -> None:
        self.blocks: queue.SimpleQueue[Block] = queue.SimpleQueue()
        self.name = found.told.name
        index = channel - 1
        put, now_s = self.blocks.put, time.perf_counter

        def on_block(samples: Any, _length: int, _times: Any, status: Any) -> None:
            put((now_s(), samples[:, index].copy(), bool(status)))

        self._stream, self.rate = _opened(library, found, channel, on_block)

    @property
    def alive(self) -> bool:
        """Whether the library takes it for open still."""
        return bool(self._stream.active)

    def close(self) -> None:
        """Stop listening. May wait without end for a system that is gone."""
        with quiet_standard_error():
            self._stream.close(ignore_errors=True)


class _Found:
    """An input as the library knows it."""

    def __init__(self, index: int, told: SoundInput) -> None:
        self.index, self.told = index, told


class SoundLibrary:
    """The library itself, imported when this is made. `library` is what tests hand in for it. Raises `PortError` where
    it, or PortAudio, is not there.
    """

    def __init__(self, library: Any = None) -> None:
        # Never start a JACK server: the sound of the machine is not ours to take.
        os.environ.setdefault("JACK_NO_START_SERVER", "1")
        self._library = library or _imported()

    def inputs(self) -> tuple[SoundInput, ...]:
        """The inputs there are, each by a name that stays when it is plugged in again. What the system takes where
        nobody chooses stands first.
        """
        return tuple(found.told for found in self._found())

    def look_again(self) -> None:
        """PortAudio sees what is plugged in only when it starts: start it anew. Nothing may be open."""
        with quiet_standard_error(), suppress(Exception):
            self._library._terminate()  # noqa: SLF001 - sounddevice has no public name for it
        try:
            with quiet_standard_error():
                self._library._initialize()  # noqa: SLF001
        except Exception as error:
            raise PortError("sound_input.no_system", fault=_words_of(error)) from error

    def open(self, name: str, channel: int) -> OpenInput:
        """Listen to a channel, from 1, of the input called `name`. Raises `PortError`."""
        found = next((one for one in self._found() if one.told.name == name), None)
        if found is None:
            raise PortError("sound_input.absent", input=name)
        if channel > found.told.channels:
            raise PortError("sound_input.no_such_channel", input=name, channels=found.told.channels, channel=channel)
        return OpenInput(self._library, found, channel)

    def _found(self) -> tuple[_Found, ...]:
        try:
            told_of_systems = list(self._library.query_hostapis())
            devices = list(self._library.query_devices())
        except Exception as error:
            raise PortError("sound_input.no_system", fault=_words_of(error)) from error
        systems = [str(system["name"]) for system in told_of_systems]
        usual = {system.get("default_input_device") for system in told_of_systems}
        taken: list[str] = []
        found = []
        for index, device in _best(systems, devices):
            name = unique_name(lasting_name(str(device["name"])), taken)
            taken.append(name)
            told = SoundInput(
                name=name, channels=int(device["max_input_channels"]), rate=round(device["default_samplerate"])
            )
            found.append(_Found(index, told))
        return tuple(sorted(found, key=lambda one: one.index not in usual))


def lasting_name(name: str) -> str:
    """The part of the library's name for an input that stays when it is plugged in again."""
    printable = "".join(letter for letter in name if letter.isprintable())
    return _ALSA_NUMBERS.sub("", printable).strip() or "unnamed input"


def _best(systems: Sequence[str], devices: Sequence[Any]) -> list[tuple[int, Any]]:
    """Those with inputs, each once, with their numbers."""
    inputs = [(index, device) for index, device in enumerate(devices) if device["max_input_channels"] > 0]
    of_system = {systems[device["hostapi"]] for _, device in inputs}
    best = next((system for system in _BEST_OF_WINDOWS if system in of_system), None)
    if best is None:
        return inputs
    return [(index, device) for index, device in inputs if systems[device["hostapi"]] == best]


def _imported() -> Any:
    try:
        with quiet_standard_error():
            return importlib.import_module("sounddevice")
    except ImportError as error:
        raise PortError("sound_input.no_library") from error
    except OSError as error:
        key = "sound_input.no_portaudio_debian" if sys.platform == "linux" else "sound_input.no_portaudio"
        raise PortError(key) from error


def _opened(library: Any, found: _Found, channel: int, on_block: Callable[..., None]) -> tuple[Any, int]:
    """A stream that runs, and its rate: the input's own, or a usual one where that is none we can use."""
    own = found.told.rate
    rates = [rate for rate in (own, *_USUAL_RATES) if LOWEST_RATE <= rate <= HIGHEST_RATE]
    fault: Exception | None = None
    for rate in dict.fromkeys(rates):
        # Some systems open all channels or none.
        for channels in dict.fromkeys((channel, found.told.channels)):
            try:
                return _started(library, found.index, rate, channels, on_block), rate
            except Exception as error:
                fault = error
                if _number_of(error) not in (_INVALID_CHANNELS, _INVALID_RATE):
                    raise _refusal(found.told.name, error) from error
    assert fault is not None
    if _number_of(fault) == _INVALID_RATE:
        raise PortError("sound_input.no_such_rate", input=found.told.name, rate=own) from fault
    raise _refusal(found.told.name, fault) from fault


def _started(library: Any, index: int, rate: int, channels: int, on_block: Callable[..., None]) -> Any:
    with quiet_standard_error():
        stream = library.InputStream(
            device=index,
            samplerate=rate,
            channels=channels,
            dtype="float32",
            blocksize=0,
            latency="low",
            callback=on_block,
        )
        try:
            stream.start()
        except BaseException:
            stream.close(ignore_errors=True)
            raise
    return stream


def _number_of(error: Exception) -> int | None:
    number = error.args[1] if len(error.args) > 1 else None
    return number if isinstance(number, int) else None


def _refusal(name: str, error: Exception) -> PortError:
    if _number_of(error) == _UNAVAILABLE:
        return PortError("sound_input.in_use", input=name)
    return PortError("sound_input.refused", input=name, fault=_words_of(error))


def _words_of(error: Exception) -> str:
    return " ".join(str(error.args[0] if error.args else error).split())[:200]
