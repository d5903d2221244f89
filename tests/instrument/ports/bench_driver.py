"""A MIDI system whose devices the test plugs in and plays by hand."""

from game.clock import HandClock
from game.instrument.ports.find_driver import FoundDriver
from game.instrument.ports.midi_inputs import MidiInputs
from game.message import verbatim


class BenchPort:
    def __init__(self, on_message):
        self.on_message, self.closed, self.abandoned = on_message, False, False

    def close(self):
        self.closed = True

    def abandon(self):
        self.abandoned = True


class BenchDriver:
    """A MIDI system whose devices the test plugs in and plays by hand."""

    api = "alsa"
    stamps = verbatim("stamped by hand")

    def __init__(self, *names):
        self.names, self.opened, self.busy, self.gone = list(names), {}, set(), False

    def input_names(self):
        if self.gone:
            raise OSError("the system went away")
        return tuple(self.names)

    def open(self, port_name, on_message):
        if port_name in self.busy:
            raise OSError("in use")
        port = BenchPort(on_message)
        self.opened.setdefault(port_name, []).append(port)
        return port

    def offer(self, name, on_message):
        if name in self.busy:
            raise OSError("in use")
        self.opened[name] = [BenchPort(on_message)]
        return self.opened[name][0]

    def still_offers(self, name):
        if self.gone:
            raise OSError("the system went away")
        return name in self.opened

    def abandon(self):
        self.gone = True

    def close(self):
        self.gone = True

    def play(self, port_name, message, delta_s=0.0):
        self.opened[port_name][-1].on_message(message, delta_s)


GUITAR, KEYS = "Guitar:Guitar MIDI 1 24:0", "Keys:Keys MIDI 1 28:0"


def inputs_on(driver, clock=None, **choice):
    inputs = MidiInputs(FoundDriver(driver, verbatim("MIDI by hand")), (clock or HandClock()).now_s, **choice)
    inputs.scan()
    return inputs
