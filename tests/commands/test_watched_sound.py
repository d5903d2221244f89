"""A watch of an audio input tells pitch, cents and level of each note, and what it turned out to be."""

from pathlib import Path
from threading import Event

import pytest

from game.clock import SystemClock
from game.commands.watched_sound import SoundWatch, sound_file, terms_for
from game.errors import HomefretError
from game.instrument.listening.heard import HeardNote, Telling, Told
from game.instrument.ports.device_changes import DeviceFound, SystemChanged
from game.instrument.ports.microphone import Microphone
from game.instrument.ports.sound_input import SoundInput, SoundLevel, SoundTerms
from game.instrument.ports.sound_wire import InputsFound
from game.message import message, to_plain
from game.player.device_settings import MicrophoneSettings
from game.player.settings import Settings
from tests.refusing import refusal

CARD = SoundTerms(name="a card")
INPUTS = InputsFound(
    tuple(SoundInput(name=name, channels=2, rate=48_000) for name in ("a card", "a card, rear", "web"))
)


class HeardAtOnce(Microphone):
    """A microphone that has heard everything as soon as it is looked at."""

    def __init__(self, hear, told):
        super().__init__()
        self.hear, self.told, self.closed = hear, told, False

    @property
    def level(self):
        return SoundLevel(rms_db=-31.4, peak_db=-12, hum_db=-80, clipped=3, lost=2)

    def changes(self):
        return (DeviceFound("a card"),) if self.told else ()

    def events(self, now_s):  # noqa: ARG002 - part of the interface
        told, self.told = self.told, ()
        for one in told:
            self.hear(one, SystemClock().now_s())
        yield from ()

    def close(self):
        self.closed = True


def one(telling, number=1, pitch=52.04, *, sure=True, slurred=False):
    note = HeardNote(
        number=number, started_s=1.0, pitch=pitch, level_db=-21.34, clarity=0.9, sure=sure, slurred=slurred
    )
    return Told(telling=telling, note=note, at_s=1.1)


def watched(*told, speaks=False):
    watch, opened = SoundWatch(SystemClock(), speaks=speaks), []

    def by(_terms, _kept_in, hear):
        opened.append(HeardAtOnce(hear, told))
        return opened[-1]

    watch.listen(CARD, Event(), seconds=0.03, kept_in="", by=by)
    assert opened[0].closed
    return watch.watched()


def test_a_note_has_its_cents_and_its_level_and_better_cents_once_it_is_settled():
    (note,) = watched(one(Telling.STARTED), one(Telling.SETTLED, pitch=51.93), one(Telling.ENDED)).heard
    assert (note.sounding, note.cents, note.level_db, note.sure, note.became) == (52, -7, -21.3, True, None)
    assert note.input == "a card"
    assert note.time_ms > 950


def test_what_a_note_becomes_is_told_beside_what_it_was():
    started, revised = one(Telling.STARTED, sure=False), one(Telling.REVISED, pitch=40.0)
    (note,) = watched(started, revised).heard
    assert (note.sounding, note.became.sounding, note.became.cents, note.sure) == (52, 40, 0, True)
    (back,) = watched(started, revised, one(Telling.REVISED, pitch=52.0)).heard
    assert (back.sounding, back.became) == (52, None)


def test_what_was_no_note_says_so_and_what_never_began_is_passed_over():
    heard = watched(one(Telling.STARTED), one(Telling.WITHDRAWN), one(Telling.REVISED, number=9)).heard
    assert [(note.sounding, note.withdrawn) for note in heard] == [(52, True)]


def test_for_people_each_is_a_line_and_the_level_stands_at_the_end(capsys):
    watched(
        one(Telling.STARTED),
        one(Telling.REVISED, pitch=40.0),
        one(Telling.STARTED, 2, 54.0, slurred=True),
        one(Telling.STARTED, 3, 55.0, sure=False),
        one(Telling.WITHDRAWN, 3, 55.0),
        speaks=True,
    )
    lines = [line.split("s  ", 1)[-1] for line in capsys.readouterr().out.splitlines()]
    assert lines == [
        "a card found",
        "MIDI  52   +4 cents   -21.3 dB",
        "MIDI  52 became MIDI  40   +0 cents",
        "MIDI  54   +0 cents   -21.3 dB  slurred",
        "MIDI  55   +0 cents   -21.3 dB  unsure",
        "MIDI  55 was no note",
        "At the end -31.4 dB; cut off: 3 samples; lost by the system: 2 times.",
    ]


def test_what_comes_and_goes_is_kept():
    changes = watched(one(Telling.STARTED)).changes
    assert [(change.change, change.device) for change in changes] == [("found", "a card")]


def test_an_input_is_found_by_its_name_or_a_part_that_no_other_has():
    card = MicrophoneSettings(channel=2, delay_ms=12, floor_db=-50)
    settings = Settings(microphones={"a card": card})
    expected = SoundTerms(name="a card", channel=2, delay_s=0.012, floor_db=-50)
    assert terms_for("a card", None, INPUTS, settings) == expected
    assert terms_for("WEB", 1, INPUTS, settings) == SoundTerms(name="web")
    with refusal(HomefretError, r"'card' stands for several inputs: give more of the name \(a card, a card, rear\)"):
        terms_for("card", None, INPUTS, settings)
    with refusal(HomefretError, "no audio input is called 'horn'; there are: a card, a card, rear, web"):
        terms_for("horn", None, INPUTS, settings)


def test_where_there_are_no_inputs_it_is_said_why():
    with refusal(HomefretError, "there is no audio input"):
        terms_for("card", None, InputsFound(()), Settings())
    with refusal(HomefretError, "libportaudio2"):
        terms_for("card", None, InputsFound((), to_plain(message("sound_input.no_portaudio_debian"))), Settings())


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("take.mid", "let it end with .wav, .flac"),
        ("there.wav", "is there already"),
        ("nowhere/take.flac", "there is no folder"),
    ],
)
def test_nothing_is_written_over_and_nothing_is_written_that_is_no_sound(tmp_path, name, why):
    (tmp_path / "there.wav").touch()
    with refusal(HomefretError, why):
        sound_file(tmp_path / name)


def test_a_new_file_is_named_whole(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert Path(sound_file(Path("take.WAV"))) == tmp_path / "take.WAV"


def test_why_nothing_is_heard_is_a_change_too(capsys):
    watch = SoundWatch(SystemClock(), speaks=True)
    watch._tell_change(SystemChanged(message("sound_input.in_use", input="a card")))
    assert [change.change for change in watch.watched().changes] == ["refused"]
    assert "another program has a card" in capsys.readouterr().out.lower()
