"""The sound half of `homefret take`: what is a recording, what is said of one, what ends in one sentence."""

import os
from dataclasses import replace
from pathlib import Path
from random import Random

import numpy as np
import pytest

from game.commands.sound_take import begins_late, ending_warnings, heard_take, is_recording, sound_warnings
from game.errors import TakeError
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.heard_recording import HeardRecording, SoundFacts
from game.text.catalogue import tell
from tests.instrument.sources.sound_files import PITCHES, played, wav_head, written
from tests.practice_log.transfer.hostile_files import no_plain_files
from tests.refusing import refusal
from tests.sampling import how_many

NOTE = PlayedNote(started_s=2.5, sounding=60, place=None)


def recording(*notes, **facts):
    usual = {"file_format": "WAV", "rate": 48_000, "channels": 1, "used": (1,), "seconds": 60.0, "level_db": -20.0}
    return HeardRecording(facts=SoundFacts(**{**usual, **facts}), notes=notes)


def told(found):
    return [tell(one) for one in found]


def test_what_a_take_is_its_content_says_and_where_that_says_nothing_its_name(tmp_path):
    (tmp_path / "take.mid").write_bytes(wav_head())
    (tmp_path / "take.wav").write_bytes(b"MThd and more")
    (tmp_path / "take").write_bytes(b"fLaC and more")
    (tmp_path / "noise.wav").write_bytes(b"whatever this is")
    (tmp_path / "noise.mid").write_bytes(b"whatever this is")
    (tmp_path / "film.mid").write_bytes(b"RIFF\0\0\0\0AVI ")
    (tmp_path / "empty.WAV").write_bytes(b"")
    found = {path.name for path in tmp_path.iterdir() if is_recording(path)}
    assert found == {"take.mid", "take", "noise.wav", "empty.WAV"}
    assert is_recording(tmp_path / "gone.flac")
    assert not is_recording(tmp_path / "gone.mid")


def test_a_pipe_is_not_opened_to_see_what_it_holds(tmp_path):
    os.mkfifo(tmp_path / "pipe.wav")
    assert is_recording(tmp_path / "pipe.wav")
    assert not is_recording(Path("/dev/zero"))


def test_only_notes_come_back_from_the_child(tmp_path):
    path = written(tmp_path / "take.wav", np.stack((0 * played(), played()), axis=1))
    found = heard_take(path)
    assert tuple(note.sounding for note in found.notes) == PITCHES
    assert {(note.place, note.source) for note in found.notes} == {(None, "take.wav")}
    assert found.facts.used == (2,)
    with refusal(TakeError, "has 2 channels, no channel 3: give --input-channel one of them"):
        heard_take(path, 3)


@pytest.mark.parametrize("kind", ["a pipe", "a folder", "a socket", "a device"])
def test_what_is_no_file_is_named_and_never_opened(tmp_path, kind):
    path = no_plain_files(tmp_path)[kind]
    with refusal(TakeError, f"{path.name} is {kind}, no file: name a file"):
        heard_take(path)


def test_a_file_that_is_not_there_or_may_not_be_read_is_said(tmp_path):
    with refusal(TakeError, "there is no file .*gone.wav: check its name"):
        heard_take(tmp_path / "gone.wav")
    with refusal(TakeError, "cannot be read: .*name too long"):
        heard_take(tmp_path / ("x" * 5_000 + ".wav"))
    closed = written(tmp_path / "closed.wav", played())
    closed.chmod(0)
    if os.access(closed, os.R_OK):
        return  # root may read everything
    with refusal(TakeError, "closed.wav cannot be read: Permission denied"):
        heard_take(closed)


def test_a_name_that_is_no_utf_8_is_a_name_like_any_other(tmp_path):
    named = written(tmp_path / "take.wav", played()).rename(tmp_path / os.fsdecode(b"na\xefve \xff.wav"))
    assert tuple(note.sounding for note in heard_take(named).notes) == PITCHES
    named.write_bytes(b"no sound")
    with refusal(TakeError, "naïve ÿ.wav cannot be heard"):
        heard_take(named)


def test_a_mutated_file_is_heard_or_refused_and_nothing_else(tmp_path):
    rng = Random(3)
    files = [
        written(tmp_path / "whole", played(PITCHES[:1]), kind=kind).read_bytes()
        for kind in ("WAV", "FLAC", "W64", "RF64")
    ]
    refused = 0
    for number in range(how_many(160, by_default=4)):
        raw = bytearray(files[number % len(files)])
        for _ in range(rng.randint(1, 8)):
            where = rng.choice((60, 200, len(raw)))
            raw[rng.randrange(where)] = rng.randrange(256)
        (tmp_path / "take.wav").write_bytes(raw[: rng.choice((len(raw), rng.randrange(len(raw))))])
        sentence = ""
        try:
            notes = heard_take(tmp_path / "take.wav").notes
        except TakeError as error:
            refused, notes, sentence = refused + 1, (), tell(error.message)
        assert len(notes) < 100
        assert not sentence or "take.wav" in sentence
    assert refused


def test_a_good_recording_needs_no_word():
    assert sound_warnings(recording(NOTE), Path("take.wav")) == []


def test_what_is_wrong_with_a_recording_is_told_with_what_helps():
    facts = {"missing_s": 3.25, "level_db": -50.0, "hum_db": -60.0, "clipped": 12, "channels": 8, "used": (2,)}
    assert told(sound_warnings(recording(**facts), Path("take.wav"))) == [
        "take.wav is cut short: 3.2 s are missing at its end; what is there was judged.",
        "No note was heard in the recording.",
        "The recording is quiet, 50 dB below full scale: turn the input up.",
        "The recording is clipped in 12 places: turn the input down.",
        "The recording hums, 10 dB below the playing: turn away from transformers and screens, or use another cable.",
        "Channel 2 of 8 was heard, where most is played (--input-channel chooses another).",
    ]


@pytest.mark.parametrize(
    "facts",
    [
        {"clipped": 2},
        {"hum_db": -45.0},
        {"level_db": -41.0},
        {"level_db": -100.0, "hum_db": -100.0},
        {"channels": 2, "used": (1, 2)},
    ],
)
def test_little_of_it_is_passed_over(facts):
    found = told(sound_warnings(recording(NOTE, **facts), Path("take.wav")))
    assert found == (
        ["The recording is quiet, 100 dB below full scale: turn the input up."] if facts.get("level_db") == -100 else []
    )


def test_a_guitar_out_of_tune_is_told():
    flat, sharp = (replace(recording(NOTE), tuned_cents=cents) for cents in (-31.8, 25.0))
    assert told(sound_warnings(flat, Path("take.wav"))) == [
        "The guitar is tuned 32 cents flat, which was taken into account."
    ]
    assert "25 cents sharp" in told(sound_warnings(sharp, Path("take.wav")))[0]
    assert sound_warnings(replace(recording(NOTE), tuned_cents=15.0), Path("take.wav")) == []


def test_a_wrong_ending_is_told_and_a_strange_one_is_not():
    assert told(ending_warnings(Path("take.mid"), "FLAC")) == [
        "take.mid holds FLAC, whatever its name says: it was judged as that."
    ]
    assert len(ending_warnings(Path("take.wav"), "FLAC")) == len(ending_warnings(Path("take.WAV"), "MIDI")) == 1
    for name, kind in (
        ("take.flac", "FLAC"),
        ("take.WAV", "RF64"),
        ("take.mid", "MIDI"),
        ("take", "WAV"),
        ("take.x", "MIDI"),
    ):
        assert ending_warnings(Path(name), kind) == []


def test_a_recording_that_begins_long_after_the_first_note_is_due_is_told():
    """Two beats of half a second late is late; one that begins with a rest is due later."""
    assert (
        "first note was heard 2.5 s from the beginning" in told(begins_late(recording(NOTE), (0.0, 0.5), (0.5, 0.5)))[0]
    )
    assert begins_late(recording(NOTE), (2.0,), (0.5,)) == []
    assert begins_late(recording(), (0.0,), (0.5,)) == []
    assert begins_late(recording(NOTE), (), ()) == []
