"""A device is known by the lasting part of its port's name."""

import pytest

from game.instrument.decoding.device_names import device_name, is_loop, is_wanted, unique_name


@pytest.mark.parametrize(
    ("api", "port_name", "device"),
    [
        # What RtMidi makes of names: ALSA "client:port client-number:port-number", Windows "name number"
        # (its source).
        ("alsa", "Six Strings:Six Strings MIDI 1 24:0", "Six Strings MIDI 1"),
        ("alsa", "Six Strings:Six Strings MIDI 1 28:0", "Six Strings MIDI 1"),
        ("alsa", "synth:out 130:1", "synth:out"),
        ("winmm", "Six Strings 3", "Six Strings"),
        ("coremidi", "Six Strings Port 1", "Six Strings Port 1"),
        ("jack", "sender:guitar", "sender:guitar"),
        ("portmidi", "Six\x1bStrings\n", "SixStrings"),
        ("alsa", "", "unnamed device"),
    ],
)
def test_numbers_that_change_on_replugging_are_left_out(api, port_name, device):
    assert device_name(port_name, api) == device


def test_namesakes_are_told_apart():
    assert unique_name("pickup", ["pickup", "pickup #2"]) == "pickup #3"
    assert unique_name("pickup", []) == "pickup"


def test_the_systems_own_loop_is_no_instrument():
    assert is_loop("Midi Through:Midi Through Port-0 14:0")
    assert not is_loop("sender:guitar")


def test_any_part_of_a_name_in_any_case_chooses_a_device():
    assert is_wanted("Six Strings MIDI 1", "six str")
    assert not is_wanted("Piano", "six str")
    assert is_wanted("Piano", None)
