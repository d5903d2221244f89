"""The MIDI system is found, chosen, or said to be missing."""

import subprocess
import sys

from game.errors import InstrumentError
from game.instrument.ports import find_driver as finding
from game.instrument.ports.find_driver import chosen_api, find_driver
from game.message import verbatim
from game.text.catalogue import tell
from tests.refusing import refusal


def test_the_environment_chooses_the_system():
    assert chosen_api({"HOMEFRET_MIDI_API": " JACK "}) == "jack"
    assert chosen_api({}) is None
    assert chosen_api({"HOMEFRET_MIDI_API": ""}) is None


def test_a_system_nobody_knows_is_refused_in_a_sentence():
    with refusal(InstrumentError, r"HOMEFRET_MIDI_API is 'tin can'.*set it to coremidi"):
        chosen_api({"HOMEFRET_MIDI_API": "tin can"})


def test_no_system_that_answers_is_an_account_and_no_error(monkeypatch):
    def refuse(name):
        raise OSError(name)

    monkeypatch.setattr(finding, "compiled_apis", lambda: ("alsa", "jack"))
    monkeypatch.setattr(finding, "RtMidiDriver", refuse)
    found = find_driver()
    assert found.driver is None
    assert "no MIDI system answers (asked: ALSA, JACK)" in tell(found.account)


def test_without_python_rtmidi_pygame_serves_and_says_how_exact_it_is(monkeypatch):
    class BenchPortMidi:
        stamps = verbatim("coarse")

    def missing():
        raise ImportError("no module named rtmidi")

    monkeypatch.setattr(finding, "compiled_apis", missing)
    monkeypatch.setattr(finding, "PortMidiDriver", BenchPortMidi)
    found = find_driver()
    assert isinstance(found.driver, BenchPortMidi)
    assert tell(found.account) == "MIDI by PortMidi, as python-rtmidi is not installed: coarse"


def test_probing_a_machine_for_midi_writes_nothing_to_standard_error():
    """C libraries complain there of each device that is missing; in a process of its own to see their
    words.
    """
    program = "from game.instrument.ports.find_driver import find_driver; print(find_driver().account.key)"
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stderr == ""
    assert ran.stdout.startswith("driver.")


def test_finding_imports_no_driver_before_it_is_asked():
    program = (
        "import sys, game.instrument.ports.midi_inputs; print(sorted({'rtmidi', 'pygame', 'mido'} & set(sys.modules)))"
    )
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
