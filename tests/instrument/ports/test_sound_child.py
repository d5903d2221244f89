"""What the listening process does with an input: it opens it, hears it, and tells."""

import io
import queue
import subprocess
import sys
import threading
from types import SimpleNamespace

import numpy as np
import pytest
import soundfile

from game.audio.beats import ClickKind
from game.audio.clicks import click_sounds
from game.instrument.listening.heard import Telling
from game.instrument.ports import sound_child
from game.instrument.ports.driver import PortError
from game.instrument.ports.sound_child import MOST_RECORDED_S, HeardInput, inputs_found, opened_when_there
from game.instrument.ports.sound_input import SoundTerms
from game.instrument.ports.sound_wire import (
    ExpectNotes,
    InputLost,
    InputOpened,
    InputRefused,
    KeepingEnded,
    LevelHeard,
    ListenTo,
    NotesHeard,
    RecordSound,
    SoundRecorded,
    StillWaiting,
    TellTone,
    ToneHeard,
    news_in,
    next_frame,
)
from game.music.clicking import ClickSound
from game.text.catalogue import tell
from tests.instrument.listening.plucked import line
from tests.instrument.ports.bench_sound import device, library_of

RATE, BLOCK = 48_000, 256
TERMS = SoundTerms(name="Card")
PITCHES = (45, 52, 60)
PLAYED = line([(0.2 + 0.3 * number, pitch) for number, pitch in enumerate(PITCHES)], rate=RATE)


class OrdersByHand:
    """Orders of the test; no more come once they are given out."""

    def __init__(self, *orders):
        self.orders, self.ended = list(orders), threading.Event()

    def come(self):
        while self.orders:
            yield self.orders.pop(0)


class Heard:
    """An open input of the bench with all that listens to it."""

    def __init__(self, kept_in="", channel=1):
        self.library, self.sound = library_of(device("Card"), played_on=channel)
        self.news = io.BytesIO()
        self.opened = self.library.open("Card", channel)
        self.input = HeardInput(self.opened, ListenTo(TERMS, kept_in), self.news)

    def play(self, samples, *, lost=False):
        for begin in range(0, len(samples), BLOCK):
            self.sound.streams[-1].give(samples[begin : begin + BLOCK], lost=lost)
        while not self.opened.blocks.empty():
            self.input.hear_next()

    def told(self, kind):
        self.news.seek(0)
        told = []
        while (frame := next_frame(self.news)) is not None:
            told.append(news_in(frame))
        return [one for one in told if isinstance(one, kind)]


def test_notes_of_the_chosen_channel_are_told_by_the_samples_at_which_they_began():
    heard = Heard(channel=2)
    heard.play(PLAYED)
    told = [one for news in heard.told(NotesHeard) for one in news.told if one.telling is Telling.STARTED]
    assert [round(one.note.pitch) for one in told] == list(PITCHES)
    assert [one.note.started_s for one in told] == pytest.approx([0.2, 0.5, 0.8], abs=0.01)


def test_the_level_is_told_with_what_was_lost_and_a_tone_only_when_it_is_wanted():
    heard = Heard()
    heard.play(PLAYED[: RATE // 2], lost=True)
    levels = heard.told(LevelHeard)
    assert levels
    assert levels[0].level.lost >= 1
    assert heard.told(ToneHeard) == []
    heard.input.obey(TellTone(wanted=True))
    heard.play(PLAYED[-RATE // 2 :])
    assert heard.told(ToneHeard)


def test_what_is_recorded_is_what_came_from_then_on():
    heard = Heard()
    heard.play(PLAYED[: BLOCK * 10])
    heard.input.obey(RecordSound(4, 0.1))
    heard.play(PLAYED[BLOCK * 10 :])
    (recorded,) = heard.told(SoundRecorded)
    samples = np.frombuffer(recorded.samples, dtype=np.float32)
    assert (recorded.number, recorded.rate, len(samples)) == (4, RATE, round(0.1 * RATE))
    assert np.array_equal(samples, PLAYED[BLOCK * 10 : BLOCK * 10 + len(samples)])


def test_nobody_records_longer_than_a_minute():
    recording = sound_child.SoundRecording(RecordSound(1, 1e9), 100, 0)
    assert not recording.feed(np.zeros(round(100 * MOST_RECORDED_S) - 1, np.float32))
    assert recording.feed(np.zeros(1, np.float32))


def test_what_comes_is_kept_in_a_file_until_the_end(tmp_path):
    heard = Heard(kept_in=str(tmp_path / "take.wav"))
    heard.play(PLAYED)
    orders = OrdersByHand()
    orders.ended.set()
    heard.input.listen(orders)
    kept, _ = soundfile.read(tmp_path / "take.wav", dtype="float32")
    assert np.max(np.abs(kept - PLAYED)) <= 2.0**-23


def test_ctrl_c_in_the_terminal_is_left_to_the_game():
    """What is being recorded is ended by it, and whole."""
    listens = (
        "import signal; from game.instrument.ports import sound_child\n"
        "sound_child._listen = lambda *_: signal.raise_signal(signal.SIGINT)\n"
        "sound_child.main([])"
    )
    assert subprocess.run([sys.executable, "-c", listens], check=False).returncode == 0


def test_a_file_that_is_there_is_told_and_listening_goes_on(tmp_path):
    (tmp_path / "take.wav").write_bytes(b"dear")
    heard = Heard(kept_in=str(tmp_path / "take.wav"))
    heard.play(PLAYED)
    (ended,) = heard.told(KeepingEnded)
    assert ended.reason["key"] == "sound_input.file_there"
    assert heard.told(NotesHeard)
    assert (tmp_path / "take.wav").read_bytes() == b"dear"


def test_an_input_that_the_library_gives_up_is_lost(monkeypatch):
    monkeypatch.setattr(sound_child, "SILENT_AT_FIRST_S", 0.2)
    heard = Heard()
    heard.sound.streams[-1].active = False
    heard.input.listen(OrdersByHand(ExpectNotes((45,))))
    assert heard.told(InputLost) == [InputLost()]


def test_one_from_which_nothing_comes_is_lost(monkeypatch):
    monkeypatch.setattr(sound_child, "SILENT_AT_FIRST_S", 0.2)
    heard = Heard()
    heard.input.listen(OrdersByHand())
    assert heard.told(InputLost) == [InputLost()]


def test_an_input_is_opened_as_soon_as_it_is_there_and_each_reason_is_told_once(monkeypatch):
    monkeypatch.setattr(sound_child, "LOOKS_AGAIN_S", 0.01)
    library, sound = library_of()
    looks, news = [], io.BytesIO()
    again = library.look_again

    def look_again():
        looks.append(1)
        if len(looks) == 3:
            sound.plugged_in_next, sound.busy = [device("Card (hw:4,0)")], {"Card (hw:4,0)"}
        if len(looks) == 5:
            sound.busy = set()
        again()

    monkeypatch.setattr(library, "look_again", look_again)
    opened = opened_when_there(library, TERMS, news, OrdersByHand())
    assert opened.name == "Card"
    news.seek(0)
    told = [news_in(frame) for frame in iter(lambda: next_frame(news), None)]
    assert [type(one) for one in told] == [
        InputRefused, StillWaiting, StillWaiting, InputRefused, StillWaiting, InputOpened,
    ]  # fmt: skip
    assert [one.absent for one in told if isinstance(one, InputRefused)] == [True, False]


def test_whoever_has_no_more_use_for_it_waits_for_no_input():
    library, _ = library_of()
    orders = OrdersByHand()
    orders.ended.set()
    assert opened_when_there(library, TERMS, io.BytesIO(), orders) is None


def test_the_inputs_or_why_there_are_none(monkeypatch):
    library, _ = library_of(device("Card"))
    monkeypatch.setattr(sound_child, "SoundLibrary", lambda: library)
    assert [one.name for one in inputs_found().inputs] == ["Card"]

    def missing():
        raise PortError("sound_input.no_library")

    monkeypatch.setattr(sound_child, "SoundLibrary", missing)
    assert inputs_found().reason["key"] == "sound_input.no_library"
    assert "pip install" in tell(PortError("sound_input.no_library").message)


CLICK_RATE = 44_100


@pytest.fixture
def listened_to(monkeypatch):
    """What of a stream is listened to for notes."""
    parts = []

    class Ear:
        def __init__(self, *_: object, **__: object) -> None:
            pass

        def feed(self, samples):
            parts.append(samples)
            return ()

    monkeypatch.setattr("game.instrument.ports.sound_child.Listener", Ear)

    def of(sound, *, own_clicks):
        parts.clear()
        opened = SimpleNamespace(rate=CLICK_RATE, name="a card", blocks=queue.SimpleQueue(), alive=True)
        listening = HeardInput(opened, ListenTo(SoundTerms(name="a card", own_clicks=own_clicks)), io.BytesIO())
        for first in range(0, len(sound), 512):
            opened.blocks.put((first / CLICK_RATE, sound[first : first + 512], False))
            listening.hear_next()
        return np.concatenate(parts)

    return of


def test_our_own_clicks_are_taken_out_where_they_reach_the_input_and_nowhere_else(listened_to):
    click = (click_sounds(CLICK_RATE, ClickSound.BRIGHT)[ClickKind.ACCENT] / 32767.0).astype(np.float32)
    sound = np.zeros(CLICK_RATE // 2, np.float32)
    for at in (700, 9000, 15_000):
        sound[at : at + len(click)] += click
    assert np.array_equal(listened_to(sound, own_clicks=False), sound)
    left = listened_to(sound, own_clicks=True)
    assert len(left) == len(sound)
    assert np.abs(left).max() < 0.015
