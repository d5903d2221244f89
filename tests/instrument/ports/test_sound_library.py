"""Audio inputs are found by lasting names and opened; what cannot be opened says why."""

import sys

import numpy as np
import pytest

from game.instrument.ports.driver import PortError
from game.instrument.ports.sound_input import SoundInput
from game.instrument.ports.sound_library import SoundLibrary, lasting_name
from game.text.catalogue import tell
from tests.instrument.ports.bench_sound import device, library_of


def reason(refused):
    return tell(refused.value.message)


@pytest.mark.parametrize(
    ("name", "lasts"),
    [
        ("USB Audio: - (hw:1,0)", "USB Audio: -"),
        ("HDA Intel PCH: ALC257 Analog (hw:0,0)", "HDA Intel PCH: ALC257 Analog"),
        ("sysdefault", "sysdefault"),
        ("Mikrofon (Realtek(R) Audio)", "Mikrofon (Realtek(R) Audio)"),
        ("card\x00\n (hw:3)", "card"),
        ("", "unnamed input"),
    ],
)
def test_an_input_keeps_its_name_when_it_is_plugged_in_again(name, lasts):
    """Names as ALSA and Windows give them (mem)."""
    assert lasting_name(name) == lasts


def test_namesakes_are_told_apart_and_outputs_are_no_inputs():
    library, _ = library_of(
        device("Card (hw:1,0)"), device("Loudspeaker", channels=0), device("Card (hw:2,0)", 24, 96_000)
    )
    assert library.inputs() == (
        SoundInput(name="Card", channels=2, rate=48_000),
        SoundInput(name="Card #2", channels=24, rate=96_000),
    )


def test_what_the_system_takes_by_itself_stands_first(monkeypatch):
    library, sound = library_of(device("Webcam"), device("Headset"), device("Interface"))
    monkeypatch.setattr(sound, "query_hostapis", lambda: ({"name": "ALSA", "default_input_device": 2},))
    assert [one.name for one in library.inputs()] == ["Interface", "Webcam", "Headset"]
    assert library.open("Headset", 1).name == "Headset"


def test_of_the_four_systems_of_windows_one_is_asked():
    systems = ("MME", "Windows DirectSound", "Windows WASAPI", "Windows WDM-KS")
    library, _ = library_of(*(device("Card", system=number) for number in range(4)), systems=systems)
    assert [one.name for one in library.inputs()] == ["Card"]
    opened = library.open("Card", 1)
    assert opened.name == "Card"


def test_what_arrives_is_one_channel_copied_and_stamped():
    library, sound = library_of(device("Card", channels=4), played_on=3)
    opened = library.open("Card", 3)
    given = np.linspace(-1, 1, 64, dtype=np.float32)
    sound.streams[0].give(given, lost=True)
    given += 5
    at_s, samples, lost = opened.blocks.get_nowait()
    assert (samples.tolist(), lost) == (np.linspace(-1, 1, 64, dtype=np.float32).tolist(), True)
    assert at_s > 0
    assert opened.alive
    opened.close()
    assert sound.streams[0].closed
    assert not opened.alive


def test_where_all_channels_are_opened_or_none_all_are():
    library, sound = library_of(device("Interface", channels=8), played_on=2)
    sound.all_channels = True
    library.open("Interface", 2)
    assert sound.streams[0].terms["channels"] == 8


@pytest.mark.parametrize(
    ("own", "opens", "rate"), [(192_000, None, 192_000), (384_000, [96_000], 96_000), (8_000, [44_100], 44_100)]
)
def test_an_input_is_opened_at_its_own_rate_or_at_one_that_will_do(own, opens, rate):
    library, sound = library_of(device("Card", rate=own))
    sound.rates = opens
    assert library.open("Card", 1).rate == rate


def test_one_that_gives_8_kilohertz_only_is_refused():
    library, sound = library_of(device("Headset", rate=8_000))
    sound.rates = [8_000]
    with pytest.raises(PortError) as refused:
        library.open("Headset", 1)
    assert "Headset gives 8000 samples a second" in reason(refused)


def test_one_that_another_program_has_one_that_is_gone_and_a_channel_too_high_are_refused():
    library, sound = library_of(device("Card"))
    sound.busy.add("Card")
    with pytest.raises(PortError) as refused:
        library.open("Card", 1)
    assert reason(refused) == "another program has Card: it is opened as soon as that ends"
    with pytest.raises(PortError) as refused:
        library.open("Other", 1)
    assert "Other is not there" in reason(refused)
    with pytest.raises(PortError) as refused:
        library.open("Card", 3)
    assert reason(refused) == "channel 3 was chosen, and Card ends with channel 2: choose another"


def test_what_is_plugged_in_later_is_found_by_looking_again():
    library, sound = library_of()
    assert library.inputs() == ()
    sound.plugged_in_next = [device("Card")]
    library.look_again()
    assert [one.name for one in library.inputs()] == ["Card"]
    assert sound.begun == 1


def test_without_the_package_or_portaudio_it_is_said_how_to_get_them(monkeypatch):
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    with pytest.raises(PortError) as refused:
        SoundLibrary()
    assert "pip install sounddevice" in reason(refused)

    def no_portaudio(_name):
        raise OSError("PortAudio library not found")

    monkeypatch.setattr("game.instrument.ports.sound_library.importlib.import_module", no_portaudio)
    monkeypatch.setattr(sys, "platform", "linux")
    with pytest.raises(PortError) as refused:
        SoundLibrary()
    assert "libportaudio2" in reason(refused)


def test_a_system_that_breaks_down_while_it_is_asked_is_a_refusal_too():
    library, sound = library_of(device("Card"))

    def broken():
        raise sound.PortAudioError("Internal\nPortAudio error", -9986)

    sound.query_devices = broken
    with pytest.raises(PortError) as refused:
        library.inputs()
    assert "Internal PortAudio error" in reason(refused)
