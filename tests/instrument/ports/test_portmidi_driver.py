"""Without python-rtmidi the PortMidi inside pygame is asked."""

import queue
import threading

import pytest

from game.instrument.ports.driver import PortError, refusal_of
from game.instrument.ports.portmidi_driver import PortMidiDriver
from game.text.catalogue import tell


class BenchPortMidi:
    """Stands for the module `pygame.midi`: the devices and what they send are set by the test."""

    class MidiException(Exception):  # noqa: N818 - the name in pygame.midi
        pass

    def __init__(self):
        self.devices = [
            (b"ALSA", b"out", 0, 1, 0),
            (b"ALSA", b"Guitar", 1, 0, 0),
            (b"ALSA", b"Guitar", 1, 0, 0),
        ]
        self.sent, self.starts, self.fails = queue.Queue(), 0, False

    def init(self):
        self.starts += 1

    def quit(self):
        pass

    def get_count(self):
        return len(self.devices)

    def get_device_info(self, number):
        return self.devices[number]

    def Input(self, number):  # noqa: N802 - the name in pygame.midi
        return BenchInput(self, number)


class BenchInput:
    def __init__(self, midi, number):
        self.midi, self.number = midi, number

    def poll(self):
        if self.midi.fails:
            raise self.midi.MidiException("unplugged")
        return not self.midi.sent.empty()

    def read(self, _most):
        return [self.midi.sent.get()]

    def close(self):
        pass


def test_only_inputs_are_listed_and_namesakes_told_apart():
    assert PortMidiDriver(BenchPortMidi()).input_names() == ("Guitar", "Guitar #2")


def test_messages_come_with_the_time_since_the_last_one():
    midi, heard, enough = BenchPortMidi(), [], threading.Event()

    def on_message(message, delta_s):
        heard.append((bytes(message), delta_s))
        if len(heard) == 2:
            enough.set()

    driver = PortMidiDriver(midi)
    driver.open("Guitar", on_message)
    midi.sent.put([[0x90, 64, 80, 0], 1000])
    midi.sent.put([[0x80, 64, 0, 0], 1250])
    assert enough.wait(60)
    driver.close()
    assert heard == [(bytes((0x90, 64, 80)), 0.0), (bytes((0x80, 64, 0)), 0.25)]


def test_new_devices_are_looked_for_only_while_none_is_open():
    midi = BenchPortMidi()
    driver = PortMidiDriver(midi)
    driver.input_names()
    starts = midi.starts
    port = driver.open("Guitar", lambda *_: None)
    driver.input_names()
    assert midi.starts == starts
    port.close()
    driver.input_names()
    assert midi.starts == starts + 1


def test_a_device_that_fails_is_no_longer_listed():
    midi = BenchPortMidi()
    driver = PortMidiDriver(midi)
    port = driver.open("Guitar", lambda *_: None)
    midi.fails = True
    port._thread.join(60)
    assert driver.input_names() == ("Guitar #2",)
    driver.close()


def test_a_port_that_is_gone_is_an_os_error():
    driver = PortMidiDriver(BenchPortMidi())
    with pytest.raises(PortError) as refused:
        driver.open("Harp", lambda *_: None)
    assert tell(refusal_of(refused.value)) == "the port Harp is gone"
