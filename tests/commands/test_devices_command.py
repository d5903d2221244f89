"""`homefret devices` tells what MIDI there is, and what is played on it."""

import json
import signal
import threading

import jsonschema
import pytest

from game.__main__ import main
from game.commands import devices_command
from game.instrument.ports.find_driver import FoundDriver
from game.instrument.ports.microphone import Microphone
from game.instrument.ports.sound_input import SoundInput
from game.instrument.ports.sound_wire import InputsFound
from game.message import message, to_plain, verbatim
from game.paths import shipped

SCHEMA = json.loads(shipped("content", "schemas", "devices.schema.json").read_text())
INPUTS = InputsFound((SoundInput(name="a card", channels=2, rate=48_000),))
GUITAR, LOOP = "Guitar:Guitar MIDI 1 24:0", "Midi Through:Midi Through Port-0 14:0"


class BenchPort:
    def close(self):
        pass


class BenchDriver:
    """A MIDI system with a guitar, which plays what the test says as soon as it is opened."""

    api = "alsa"
    stamps = "stamped by hand"

    def __init__(self, *messages):
        self.messages, self.closed = messages, False

    def input_names(self):
        return (GUITAR, LOOP)

    def open(self, _port_name, on_message):
        for sent in self.messages:
            on_message(sent, 0.0)
        return BenchPort()

    def offer(self, _name, _on_message):
        return None

    def close(self):
        self.closed = True


@pytest.fixture
def plug_in(monkeypatch):
    def plug_in(driver):
        found = FoundDriver(driver, verbatim("MIDI by hand" if driver else "no MIDI system answers"))
        monkeypatch.setattr(devices_command, "find_driver_for_environment", lambda: found)
        return driver

    monkeypatch.setattr(devices_command, "sound_inputs", lambda: INPUTS)
    return plug_in


def answered(capsys, *words):
    """The answer in JSON, after it was held against its schema; nothing else may have been written."""
    assert main(["devices", "--json", *words]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    answer = json.loads(out)
    jsonschema.validate(answer, SCHEMA)
    return answer


def refused(capsys, *words):
    assert main(["devices", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    return err


def test_the_ports_are_listed_with_the_device_behind_each(plug_in, capsys):
    driver = plug_in(BenchDriver())
    assert answered(capsys) == {
        "api": "alsa",
        "found": "MIDI by hand",
        "ports": [
            {"port": GUITAR, "device": "Guitar MIDI 1", "instrument": True},
            {"port": LOOP, "device": "Midi Through Port-0", "instrument": False},
        ],
        "inputs": [{"name": "a card", "channels": 2, "rate": 48_000}],
    }
    assert driver.closed


def test_without_any_midi_system_the_answer_says_so_and_is_no_failure(plug_in, capsys):
    plug_in(None)
    answer = answered(capsys)
    assert (answer["api"], answer["found"], answer["ports"]) == (None, "no MIDI system answers", [])
    assert main(["devices"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines == ["No MIDI system answers.", "Audio inputs:", "  a card (channels: 2; 48000 Hz)"]


def test_where_sound_cannot_be_heard_it_is_said_how_to_mend_that(plug_in, capsys, monkeypatch):
    plug_in(None)
    missing = InputsFound((), to_plain(message("sound_input.no_portaudio_debian")))
    for inputs, words in ((missing, "libportaudio2"), (InputsFound(()), "plug in a microphone")):
        monkeypatch.setattr(devices_command, "sound_inputs", lambda inputs=inputs: inputs)
        assert answered(capsys)["inputs"] == []
        assert main(["devices"]) == 0
        assert words in capsys.readouterr().out


class SilentMicrophone(Microphone):
    """It hears nothing."""


def test_a_watch_of_an_input_answers_with_what_was_heard(plug_in, capsys, monkeypatch, tmp_path):
    plug_in(None)
    kept = []

    def listen(terms, kept_in, _hear):
        kept.append((terms.name, terms.channel, kept_in))
        return SilentMicrophone()

    monkeypatch.setattr(devices_command, "listen_by", listen)
    words = ("--watch", "--seconds", "0.05", "--input", "card", "--input-channel", "2")
    answer = answered(capsys, *words, "--record", str(tmp_path / "take.wav"))
    assert (answer["heard"], answer["changes"]) == ([], [])
    assert kept == [("a card", 2, str(tmp_path / "take.wav"))]
    assert "notes" not in answer


def test_a_watch_tells_each_note_with_string_and_fret(plug_in, capsys):
    plug_in(BenchDriver([0x94, 52, 90], [0x95, 39, 90], [0x94, 52, 0]))
    answer = answered(capsys, "--watch", "--seconds", "0.05")
    first, second = answer["notes"]
    assert (first["string"], first["fret"], first["sounding"], first["channel"]) == (5, 7, 52, 5)
    assert first["device"] == "Guitar MIDI 1"
    assert (second["string"], second["fret"], second["off_neck"]) == (None, None, "below the open string")
    assert [change["change"] for change in answer["changes"]] == ["found"]


def test_a_watch_for_people_is_a_line_a_note(plug_in, capsys):
    plug_in(BenchDriver([0x94, 52, 90], [0x99, 60, 70]))
    assert main(["devices", "--watch", "--seconds", "0.05"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[:3] == [
        "MIDI by hand.",
        "  Guitar MIDI 1",
        "  Midi Through Port-0 (passes on other programs; not opened)",
    ]
    assert any("string 5 fret  7  MIDI  52" in line for line in lines)
    assert any("not on a string's channel  MIDI  60" in line for line in lines)


def test_the_base_channel_and_the_order_of_strings_can_be_told(plug_in, capsys):
    plug_in(BenchDriver([0x9A, 43, 90]))
    answer = answered(
        capsys,
        "--watch",
        "--seconds",
        "0.05",
        "--base-channel",
        "11",
        "--low-string-first",
        "--tuning",
        "drop-d",
    )
    assert [(note["string"], note["fret"]) for note in answer["notes"]] == [(6, 5)]


def test_a_keyboard_has_pitches_only(plug_in, capsys):
    plug_in(BenchDriver([0x90, 60, 90]))
    answer = answered(capsys, "--watch", "--seconds", "0.05", "--keyboard")
    assert [(note["string"], note["sounding"], note["off_neck"]) for note in answer["notes"]] == [(None, 60, None)]


class DriverAtWhichItIsTold(BenchDriver):
    """Whoever watches is told to end as soon as the guitar is opened."""

    def __init__(self, number, *messages):
        super().__init__(*messages)
        self.number = number

    def open(self, port_name, on_message):
        port = super().open(port_name, on_message)
        signal.raise_signal(self.number)
        return port


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_ends_the_watch_in_order_with_its_answer(plug_in, capsys, number):
    driver = plug_in(DriverAtWhichItIsTold(number, [0x90, 64, 90]))
    before = signal.getsignal(number)
    answer = answered(capsys, "--watch")
    assert len(answer["notes"]) == 1
    assert driver.closed
    assert signal.getsignal(number) is before


def test_a_signal_ends_the_watch_whenever_it_comes(plug_in, capsys, monkeypatch):
    """Whoever waits for a `threading.Event` holds its lock for moments: a handler that sets it then never returns."""

    class Told(threading.Event):
        def wait(self, timeout=None):
            raise AssertionError(f"a signal may come in these {timeout} s")

    monkeypatch.setattr(devices_command, "Event", Told)
    plug_in(BenchDriver([0x90, 64, 90]))
    assert len(answered(capsys, "--watch", "--seconds", "0.05")["notes"]) == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--seconds", "0"), "--seconds is 0: give a number above 0"),
        (("--seconds", "nan"), "--seconds is nan: give a number above 0"),
        (("--base-channel", "12"), "choose 1 to 11"),
        (("--frets", "0"), "0 frets: give 1 to 30"),
        (("--tuning", "banjo"), "no tuning is called 'banjo'"),
        (("--record", "take.wav"), "take.wav keeps sound, which comes by --input NAME"),
        (("--input-channel", "2"), "--input-channel with --input"),
        (("--input", "card", "--input-channel", "0"), "--input-channel is 0"),
        (("--input", "horn"), "no audio input is called 'horn'"),
        (("--input", "card", "--record", "take.mid"), "let it end with .wav, .flac"),
    ],
)
def test_a_mistake_is_one_line_and_exit_status_2(plug_in, capsys, words, sentence):
    plug_in(None)
    assert sentence in refused(capsys, "--watch", *words)


def test_a_wrong_choice_of_system_is_one_line_too(monkeypatch, capsys):
    monkeypatch.setenv("HOMEFRET_MIDI_API", "tin can")
    assert "HOMEFRET_MIDI_API is 'tin can'" in refused(capsys)
