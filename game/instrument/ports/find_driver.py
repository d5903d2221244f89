"""Which MIDI system there is: the computer's own, JACK where a server answers, or pygame's PortMidi."""

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from game.errors import InstrumentError
from game.instrument.ports.driver import Driver
from game.instrument.ports.portmidi_driver import PortMidiDriver
from game.instrument.ports.rtmidi_driver import API_NAMES, RtMidiDriver, compiled_apis
from game.message import Message, message

CHOOSE_API = "HOMEFRET_MIDI_API"
_SPOKEN = {
    "alsa": "ALSA",
    "jack": "JACK",
    "coremidi": "CoreMIDI",
    "winmm": "Windows MIDI",
    "portmidi": "PortMidi",
}


@dataclass(frozen=True, slots=True)
class FoundDriver:
    """`driver` is None where there is no MIDI system; `account` says in one sentence what was found. `open_again` makes
    a new driver of the same system, which may go away and come back; it raises `OSError` while it is away.
    """

    driver: Driver | None
    account: Message
    open_again: Callable[[], Driver] | None = None


def chosen_api(environment: Mapping[str, str]) -> str | None:
    """The system the environment asks for, None for whichever is there. Raises `InstrumentError` for
    another word.
    """
    api = environment.get(CHOOSE_API, "").strip().lower()
    if api and api not in API_NAMES:
        raise InstrumentError("instrument.unknown_midi_system", variable=CHOOSE_API, given=api, known=tuple(API_NAMES))
    return api or None


def find_driver(api: str | None = None) -> FoundDriver:
    """The first system that answers, or the one called `api` and no other. Never raises for a missing
    system.
    """
    try:
        compiled = compiled_apis()
    except ImportError:
        return _portmidi()
    refusals = []
    for name in (api,) if api else compiled:
        try:
            driver = RtMidiDriver(name)
        except OSError:
            refusals.append(system_name(name))
        else:
            account = message("driver.found", system=system_name(name), stamps=driver.stamps)
            return FoundDriver(driver, account, partial(RtMidiDriver, name))
    return FoundDriver(None, message("driver.none_answers", systems=refusals))


def _portmidi() -> FoundDriver:
    try:
        driver = PortMidiDriver()
    except (ImportError, RuntimeError, OSError):
        return FoundDriver(None, message("driver.none_installed"))
    return FoundDriver(driver, message("driver.portmidi_found", stamps=driver.stamps))


def find_driver_for_environment() -> FoundDriver:
    """`find_driver` with the choice of the environment variable `HOMEFRET_MIDI_API`."""
    return find_driver(chosen_api(os.environ))


def system_name(api: str) -> str:
    """The name of a system as people write it."""
    return _SPOKEN[api]
