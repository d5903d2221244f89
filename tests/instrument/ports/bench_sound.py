"""A library for sound whose inputs the test plugs in and plays by hand, in the place of sounddevice."""

import numpy as np

from game.instrument.ports.sound_library import SoundLibrary


class PortAudioError(Exception):
    """As sounddevice has it: the words, then PortAudio's number."""


INVALID_CHANNELS, INVALID_RATE, UNAVAILABLE = -9998, -9997, -9985


def device(name, channels=2, rate=48_000, system=0):
    return {"name": name, "max_input_channels": channels, "default_samplerate": float(rate), "hostapi": system}


class BenchStream:
    def __init__(self, library, terms):
        self.library, self.terms = library, terms
        self.active = self.closed = False

    def start(self):
        self.active = True

    def close(self, ignore_errors=True):  # noqa: ARG002 - as sounddevice has it
        self.active, self.closed = False, True

    def give(self, samples, *, lost=False):
        """A block of one channel, on the channel listened to: the others are loud."""
        block = np.full((len(samples), self.terms["channels"]), 0.9, dtype=np.float32)
        block[:, self.library.played_on - 1] = samples
        self.terms["callback"](block, len(samples), None, lost)


class BenchSound:
    """`busy` names have another program, `rates` are those that open."""

    PortAudioError = PortAudioError

    def __init__(self, *devices, systems=("ALSA",), played_on=1):
        self.devices, self.systems, self.played_on = list(devices), systems, played_on
        self.streams, self.busy, self.rates, self.begun, self.all_channels = [], set(), None, 1, False
        self.plugged_in_next: list[dict] = []

    def _terminate(self):
        self.begun -= 1

    def _initialize(self):
        self.begun += 1
        self.devices += self.plugged_in_next
        self.plugged_in_next = []

    def query_hostapis(self):
        return tuple({"name": name} for name in self.systems)

    def query_devices(self):
        return list(self.devices)

    def InputStream(self, **terms):  # noqa: N802 - as sounddevice has it
        found = self.devices[terms["device"]]
        if found["name"] in self.busy:
            raise PortAudioError("Error opening InputStream: Device unavailable", UNAVAILABLE)
        if self.rates is not None and terms["samplerate"] not in self.rates:
            raise PortAudioError("Error opening InputStream: Invalid sample rate", INVALID_RATE)
        if self.all_channels and terms["channels"] != found["max_input_channels"]:
            raise PortAudioError("Error opening InputStream: Invalid number of channels", INVALID_CHANNELS)
        self.streams.append(BenchStream(self, terms))
        return self.streams[-1]


def library_of(*devices, **choice):
    sound = BenchSound(*devices, **choice)
    return SoundLibrary(sound), sound
