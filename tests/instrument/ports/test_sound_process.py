"""The process that listens, as a process of its own, over a library that a thread plays: it tells notes, and ends with
us.
"""

import os
import signal
import subprocess
import sys
import time
from itertools import pairwise
from pathlib import Path

import pytest

from game.clock import SystemClock
from game.instrument.decoding.played import NoteStarted
from game.instrument.ports.device_changes import DeviceFound, DeviceLost
from game.instrument.ports.microphone import Microphone
from game.instrument.ports.sound_input import SoundInput, SoundTerms
from game.instrument.ports.sound_process import sound_inputs

AT_MOST_S = 90.0
INPUT = "bench input"


@pytest.fixture
def played(tmp_path, monkeypatch):
    """The library that a thread plays, for processes that begin from now on."""
    monkeypatch.setenv("BENCH_SOUND", str(tmp_path))
    monkeypatch.setenv("PYTHONPATH", str(Path(__file__).parent / "library_by_thread"))
    return tmp_path


@pytest.fixture
def microphone(played):  # noqa: ARG001 - it is to be there
    heard = Microphone(SystemClock().now_s, SoundTerms(name=INPUT))
    yield heard
    heard.close()


def wait_for(what):
    """Wait for something to be so; what it is."""
    until_s = time.monotonic() + AT_MOST_S
    while time.monotonic() < until_s:
        if found := what():
            return found
        time.sleep(0.01)
    raise AssertionError("it never was")


def change_of(microphone, kind):
    return lambda: next((change for change in microphone.changes() if isinstance(change, kind)), None)


def notes_of(microphone, count):
    notes = []

    def enough():
        notes.extend(event.note for event in microphone.events(0.0) if isinstance(event, NoteStarted))
        return len(notes) >= count

    wait_for(enough)
    return notes


def process_of(played):
    return int(wait_for(lambda: (played / "opened").exists() and (played / "opened").read_text()))


def is_alive(number):
    """A process that has ended and that nobody asked for is none."""
    try:
        return Path(f"/proc/{number}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def test_notes_come_from_another_process_at_the_times_of_their_samples_even_in_bursts(played):
    """A quarter of a second at once, as PulseAudio hands over what a loudspeaker plays; measured."""
    (played / "bursts").touch()
    microphone = Microphone(SystemClock().now_s, SoundTerms(name=INPUT))
    try:
        assert wait_for(change_of(microphone, DeviceFound)).name == INPUT
        notes = notes_of(microphone, 4)
    finally:
        microphone.close()
    assert {note.sounding for note in notes} == {45}
    apart = [round(later.started_s - note.started_s, 3) for note, later in pairwise(notes[1:])]
    assert apart == pytest.approx([0.5] * len(apart), abs=0.12)
    assert notes[-1].started_s < time.perf_counter()
    assert microphone.level is None or microphone.level.peak_db > -20


def test_what_is_recorded_is_what_was_played(microphone):
    wait_for(change_of(microphone, DeviceFound))
    microphone.record(0.6)
    wait_for(lambda: microphone.changes() or microphone.recorded())
    recorded = microphone.recorded()
    assert (recorded.rate, len(recorded.samples)) == (44_100, round(0.6 * 44_100))
    assert 0.1 < abs(recorded.samples).max() < 0.6


def test_an_input_from_which_nothing_comes_any_more_is_lost_and_found_when_it_is_back(played, microphone):
    wait_for(change_of(microphone, DeviceFound))
    notes_of(microphone, 1)
    (played / "absent").touch()
    (played / "silent").touch()
    assert wait_for(change_of(microphone, DeviceLost)) == DeviceLost(INPUT, was_playing=True)
    (played / "silent").unlink()
    (played / "absent").unlink()
    assert wait_for(change_of(microphone, DeviceFound)).name == INPUT


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="asks Linux who is alive")
def test_a_process_that_is_killed_is_replaced_and_ends_when_it_is_not_wanted(played, microphone):
    wait_for(change_of(microphone, DeviceFound))
    first = process_of(played)
    (played / "opened").unlink()
    os.kill(first, signal.SIGKILL)
    assert wait_for(change_of(microphone, DeviceLost)).name == INPUT
    assert wait_for(change_of(microphone, DeviceFound)).name == INPUT
    second = process_of(played)
    microphone.listen_to(None)
    wait_for(lambda: not is_alive(second))


_GAME = """
import sys, time
from game.instrument.ports.microphone import Microphone
from game.instrument.ports.sound_input import SoundTerms
microphone = Microphone(time.perf_counter, SoundTerms(name=sys.argv[1]))
while True:
    microphone.changes()
    time.sleep(0.01)
"""


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="asks Linux who is alive")
def test_a_game_that_is_killed_takes_the_process_with_it(played):
    path = os.pathsep.join([str(Path(__file__).parents[3]), os.environ["PYTHONPATH"]])
    game = subprocess.Popen([sys.executable, "-c", _GAME, INPUT], env={**os.environ, "PYTHONPATH": path})
    listens = process_of(played)
    assert is_alive(listens)
    game.kill()
    game.wait()
    wait_for(lambda: not is_alive(listens))


def test_the_inputs_are_asked_for_in_a_process_that_ends(played, monkeypatch):
    found = sound_inputs()
    assert found.inputs == (SoundInput(name=INPUT, channels=2, rate=44_100),)
    (played / "sounddevice.py").write_text("raise OSError('PortAudio library not found')")
    monkeypatch.setenv("PYTHONPATH", str(played))
    assert sound_inputs().reason["key"].startswith("sound_input.no_portaudio")
