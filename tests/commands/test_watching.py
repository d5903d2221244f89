"""What is heard while `homefret devices --watch` looks on."""

from threading import Event

import pytest

from game.commands.watching import Watch
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.instrument_state import KeyboardSetup
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup, channels_from
from game.instrument.ports.device_changes import DeviceFound, DeviceLost, DeviceRefused, DeviceWired
from game.instrument.sources.take_file import read_take
from game.message import message
from game.neck.tuning import STANDARD
from tests.speaking import speaking

GUITAR = StringsSetup(channels=channels_from(1), tuning=STANDARD, frets=22, delay=Delay())


class HandClock:
    def __init__(self):
        self.at_s = 100.0

    def now_s(self):
        return self.at_s


class Inputs:
    """Devices and messages by hand."""

    def __init__(self, changes=(), messages=()):
        self._changes, self._messages = list(changes), list(messages)

    def changes(self):
        changes, self._changes = self._changes, []
        return changes

    def drain(self):
        messages, self._messages = self._messages, []
        return messages


def struck(at_s, channel, sounding, velocity=90):
    return StampedMessage(at_s, 0.0, bytes((0x8F + channel, sounding, velocity)), "guitar")


def watched(inputs, *, setup=GUITAR, speaks=False, later_s=1.0):
    clock = HandClock()
    watch = Watch(lambda _: setup, clock, speaks=speaks)
    told = Event()
    told.set()
    clock.at_s += later_s
    watch.look_on(inputs, told, seconds=None)
    return watch


def test_notes_changes_and_dirt_are_kept_for_the_answer():
    inputs = Inputs(
        changes=[DeviceFound("guitar"), DeviceLost("keys")],
        messages=[struck(100.5, 5, 52), struck(100.6, 2, 64, velocity=1)],
    )
    told = watched(inputs).watched()
    assert [(note.sounding, note.string, note.fret) for note in told.notes] == [(52, 5, 7)]
    assert [(one.change, one.device, one.time_ms) for one in told.changes] == [
        ("found", "guitar", 1000.0), ("lost", "keys", 1000.0),
    ]  # fmt: skip
    assert told.dirt == {"too soft": 1}
    assert [note.filter.value for note in told.filtered] == ["too soft"]


def test_of_a_program_people_are_told_what_to_do_and_when_it_is_here(capsys):
    watched(Inputs(changes=[DeviceFound("sender", wires_itself=True), DeviceWired("sender")]), speaks=True)
    assert capsys.readouterr().out.splitlines() == [
        "sender found",
        "sender is heard once you wire it to the port Homefret in JACK's patchbay.",
        "sender is here.",
    ]


def test_a_keyboard_tells_pitches_alone():
    told = watched(Inputs(messages=[struck(100.5, 1, 60)]), setup=KeyboardSetup()).watched()
    assert [(note.sounding, note.string, note.off_neck) for note in told.notes] == [(60, None, None)]


def test_people_are_told_line_by_line_as_it_comes(capsys):
    reason = message("faults", faults=("busy",))
    inputs = Inputs(
        changes=[DeviceFound("guitar"), DeviceRefused("keys", reason)],
        messages=[struck(100.5, 5, 52), struck(100.6, 2, 64, velocity=1), struck(100.7, 6, 39)],
    )
    watched(inputs, speaks=True)
    assert capsys.readouterr().out.splitlines() == [
        "guitar found",
        "keys refused (busy)",
        "    0.500 s  string 5 fret  7  MIDI  52  channel  5  velocity  90  bend     0  delay 12.1 ms  guitar",
        "    0.600 s  filtered, too soft: MIDI  64  channel  2",
        "    0.700 s  below the open string  MIDI  39  channel  6  velocity  90  bend     0  delay 25.7 ms  guitar",
        "Filtered: 1 too soft.",
    ]


@pytest.mark.parametrize("language", ["de", "pseudo"])
def test_the_lines_are_those_of_the_language(language, capsys):
    with speaking(language):
        watched(Inputs(messages=[struck(100.5, 5, 52)]), speaks=True)
    (line,) = capsys.readouterr().out.splitlines()
    assert {"de": "Saite 5 Bund  7  MIDI  52  Kanal  5  Anschlag  90", "pseudo": "«string »5« fret » 7«"}[
        language
    ] in line


def test_for_programs_nothing_is_printed(capsys):
    watched(Inputs(messages=[struck(100.5, 5, 52)]))
    assert capsys.readouterr().out == ""


def test_what_came_is_recorded_so_that_a_take_can_be_judged(tmp_path):
    watched(Inputs(messages=[struck(100.5, 5, 52), struck(101.5, 4, 57)])).record(tmp_path / "take.mid")
    notes = read_take(tmp_path / "take.mid", tuning=STANDARD, frets=22, keyboard=False, filtered=True).notes
    assert [(note.sounding, note.place.string, note.place.fret) for note in notes] == [(52, 5, 7), (57, 4, 7)]
