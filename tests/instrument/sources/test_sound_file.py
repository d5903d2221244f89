"""Recordings are opened, checked and heard: every kind that is read, and one sentence for whatever is not."""

import os
import struct
import sys

import numpy as np
import pytest

from game.errors import TakeError
from game.instrument.sources.heard_recording import recording_of
from game.instrument.sources.sound_file import lines_of_sound_file
from tests.instrument.sources.sound_files import BEGINS_S, GAP_S, LASTS_S, PITCHES, played, promising, wav_head, written
from tests.refusing import refusal
from tests.sampling import sample


def heard(path, channel=""):
    return recording_of(lines_of_sound_file(path, channel), "take.wav")


def pitches(path, channel=""):
    return tuple(note.sounding for note in heard(path, channel).notes)


KINDS = [
    ("WAV", "PCM_16"), ("WAV", "PCM_24"), ("WAV", "PCM_32"), ("WAV", "FLOAT"), ("WAV", "DOUBLE"), ("WAV", "PCM_U8"),
    ("WAVEX", "PCM_24"), ("RF64", "PCM_16"), ("W64", "PCM_24"), ("FLAC", "PCM_16"), ("FLAC", "PCM_24"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "subtype"), sample(KINDS, by_default=2))
def test_every_kind_of_file_gives_the_notes_and_when_they_began(tmp_path, kind, subtype):
    recording = heard(written(tmp_path / "take", played(), kind=kind, subtype=subtype))
    assert tuple(note.sounding for note in recording.notes) == PITCHES
    for number, note in enumerate(recording.notes):
        assert note.started_s == pytest.approx(BEGINS_S + GAP_S * number, abs=0.01)
    assert recording.facts.file_format == {"WAVEX": "WAV"}.get(kind, kind)
    assert recording.facts.missing_s == 0


@pytest.mark.parametrize("rate", sample((16_000, 22_050, 32_000, 48_000, 96_000, 176_400, 192_000), by_default=1))
def test_sound_of_every_rate_is_heard(tmp_path, rate):
    recording = heard(written(tmp_path / "take.wav", played(rate=rate), rate=rate))
    assert tuple(note.sounding for note in recording.notes) == PITCHES
    assert recording.facts.rate == rate
    assert recording.facts.seconds == pytest.approx(LASTS_S, abs=0.01)


def test_a_note_at_the_very_beginning_is_heard_at_time_0(tmp_path):
    recording = heard(written(tmp_path / "take.wav", played(begins_s=0)))
    assert tuple(note.sounding for note in recording.notes) == PITCHES
    assert recording.notes[0].started_s == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize("kind", sample(("WAV", "FLAC", "RF64", "W64"), by_default=1))
def test_a_file_that_is_cut_short_gives_what_is_there_and_how_much_is_missing(tmp_path, kind):
    whole = written(tmp_path / "whole.wav", played(), kind=kind).read_bytes()
    (tmp_path / "cut.wav").write_bytes(whole[: len(whole) * 3 // 5])
    recording = heard(tmp_path / "cut.wav")
    assert tuple(note.sounding for note in recording.notes)[:2] == PITCHES[:2]
    assert recording.facts.seconds + recording.facts.missing_s == pytest.approx(LASTS_S, abs=0.02)
    assert recording.facts.missing_s > 0.3


def test_a_file_written_to_a_pipe_promises_all_there_may_be_and_lacks_nothing(tmp_path):
    path = written(tmp_path / "take.wav", played())
    path.write_bytes(promising(path.read_bytes(), 0xFFFF_FFFF))
    recording = heard(path)
    assert tuple(note.sounding for note in recording.notes) == PITCHES
    assert recording.facts.missing_s == 0


def test_a_flac_file_of_unknown_length_is_read_to_its_end(tmp_path):
    """FLAC format: the last 36 bits before the checksum in STREAMINFO count samples, 0 for unknown."""
    path = written(tmp_path / "take.flac", played(), kind="FLAC")
    raw = bytearray(path.read_bytes())
    raw[21] &= 0xF0
    raw[22:26] = bytes(4)
    path.write_bytes(raw)
    assert pitches(path) == PITCHES


def test_quiet_playing_is_turned_up_before_it_is_heard(tmp_path):
    recording = heard(written(tmp_path / "take.wav", played(level=0.002), subtype="PCM_24"))
    assert tuple(note.sounding for note in recording.notes) == PITCHES
    assert recording.facts.level_db < -50


def test_samples_in_floating_point_may_be_counted_in_thousands(tmp_path):
    assert pitches(written(tmp_path / "take.wav", played() * 32_768, subtype="FLOAT")) == PITCHES


def test_the_guitar_is_found_among_many_channels_or_taken_where_it_is_named(tmp_path):
    sound = np.zeros((len(played()), 24), np.float32)
    sound[:, 16] = played()
    sound[:, 3] = 0.3 * played((60, 60, 60, 60))
    path = written(tmp_path / "take.wav", sound)
    recording = heard(path)
    assert (recording.facts.channels, recording.facts.used) == (24, (17,))
    assert tuple(note.sounding for note in recording.notes) == PITCHES
    assert heard(path, "4").facts.used == (4,)
    with refusal(TakeError, "has 24 channels, no channel 25"):
        heard(path, "25")


def test_two_channels_alike_are_heard_together(tmp_path):
    path = written(tmp_path / "take.wav", np.stack((played(), 0.5 * played()), axis=1))
    recording = heard(path)
    assert recording.facts.used == (1, 2)
    assert tuple(note.sounding for note in recording.notes) == PITCHES


def test_silence_gives_no_notes(tmp_path):
    recording = heard(written(tmp_path / "take.wav", np.zeros((4_000, 2), np.float32)))
    assert recording.notes == ()
    assert recording.facts.level_db <= -90


def refusals(folder):
    sound = played()
    wav = written(folder / "whole.wav", sound).read_bytes()
    (folder / "long.wav").write_bytes(wav_head(data_bytes=2_000_000_000))
    os.truncate(folder / "long.wav", 2_000_000_044)
    written(folder / "slow.wav", sound, rate=8_000)
    written(folder / "renamed.wav", sound, kind="MP3", subtype="MPEG_LAYER_III")
    written(folder / "other.wav", sound, kind="AIFF")
    written(folder / "nan.wav", np.where(np.arange(len(sound)) == 22_050, np.nan, sound), subtype="FLOAT")
    written(folder / "endless.wav", np.where(np.arange(len(sound)) == 22_050, np.inf, sound), subtype="FLOAT")
    written(folder / "none.wav", sound[:0])
    files = {
        "text.wav": b"This is not a recording.\n" * 40,
        "empty.wav": b"",
        "bits.wav": wav_head(bits=1, data_bytes=100) + bytes(100),
        "head.wav": wav[:30],
        "huge_chunk.wav": wav[:12] + b"LIST" + struct.pack("<I", 0xFFFF_FFF0) + wav[12:],
        "no_rate.wav": wav_head(rate=0, data_bytes=100) + bytes(100),
        "many.wav": wav_head(channels=65, data_bytes=130) + bytes(130),
        "fast.wav": wav_head(rate=384_000, data_bytes=100) + bytes(100),
    }
    for name, content in files.items():
        (folder / name).write_bytes(content)


REFUSED = {
    "long.wav": "longer than 10 minutes: give one take",
    "slow.wav": "has 8,000 samples a second: record the take with 16,000 to 192,000",
    "fast.wav": "has 384,000 samples a second",
    "many.wav": "has 65 channels: export the track of the guitar",
    "renamed.wav": "holds sound as MP3",
    "other.wav": "holds sound as AIFF",
    "nan.wav": "broken 0.5 s from its beginning",
    "endless.wav": "broken 0.5 s from its beginning",
    "none.wav": "holds no sound: record",
    "text.wav": "cannot be heard",
    "empty.wav": "cannot be heard",
    "bits.wav": "has 1 bit a sample: record",
    "head.wav": "cannot be heard",
    "huge_chunk.wav": "cannot be heard",
    "no_rate.wav": "cannot be heard|0 samples a second",
}


def test_what_cannot_be_heard_is_told_in_one_sentence_with_what_to_do(tmp_path):
    refusals(tmp_path)
    for name, sentence in REFUSED.items():
        with refusal(TakeError, f"{name} .*({sentence}).*"):
            heard(tmp_path / name)


def test_without_the_library_one_sentence_says_how_to_get_it(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "soundfile", None)
    with refusal(TakeError, "soundfile, and it is missing: install it with pip install soundfile"):
        heard(written_before(tmp_path))


def written_before(folder):
    path = folder / "take.wav"
    path.write_bytes(wav_head(data_bytes=100) + bytes(100))
    return path
