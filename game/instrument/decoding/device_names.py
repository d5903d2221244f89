"""Names of devices out of the names of ports. Pure.

Systems put numbers into a port's name that change when the device is plugged in again, so a device is known
by what remains.
"""

import re
from collections.abc import Collection

# ALSA appends the client and port numbers: "Pickup:Pickup MIDI 1 24:0".
_ALSA_NUMBERS = re.compile(r" \d+:\d+$")
# On Windows RtMidi appends the number of the port, to tell namesakes apart: "Pickup 1".
_WINDOWS_NUMBER = re.compile(r" \d+$")
_LOOPS = ("midi through",)
# Clients under which JACK and its bridges show hardware (mem: jackd, a2jmidid, PipeWire). All else is a
# program.
_JACK_HARDWARE = ("system:", "a2j:", "midi-bridge:")


def device_name(port_name: str, api: str) -> str:
    """The lasting part of a port's name; `api` is "alsa", "jack", "coremidi", "winmm" or "portmidi"."""
    if api == "alsa":
        name = _ALSA_NUMBERS.sub("", port_name)
        # "Pickup:Pickup MIDI 1" says the client twice.
        client, _, port = name.partition(":")
        name = port if client and port.startswith(client) else name
    elif api == "winmm":
        name = _WINDOWS_NUMBER.sub("", port_name)
    else:
        name = port_name
    return "".join(letter for letter in name if letter.isprintable()).strip() or "unnamed device"


def unique_name(name: str, taken: Collection[str]) -> str:
    """`name`, or with " #2", " #3" and so on added where a namesake has it."""
    if name not in taken:
        return name
    count = 2
    while f"{name} #{count}" in taken:
        count += 1
    return f"{name} #{count}"


def is_loop(port_name: str) -> bool:
    """Whether a port only passes on what other programs send to it, and is no instrument."""
    return any(loop in port_name.casefold() for loop in _LOOPS)


def is_wanted(name: str, wanted: str | None) -> bool:
    """Whether a device is the one asked for, by any part of its name in any case; None wants all."""
    return wanted is None or wanted.casefold() in name.casefold()


def is_program(port_name: str, api: str) -> bool:
    """Whether a port belongs to a program, which by JACK's custom is wired to ours instead of us opening
    it.
    """
    return api == "jack" and not port_name.casefold().startswith(_JACK_HARDWARE)
