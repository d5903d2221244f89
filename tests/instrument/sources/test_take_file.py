"""Takes come out of MIDI files and go into them; broken files end in one sentence."""

import os
import struct
from itertools import pairwise

import mido
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from game.errors import TakeError
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.take_file import MOST_BYTES, read_take, write_take
from game.neck.tuning import STANDARD, Place, tuning_named
from game.text.catalogue import tell
from tests.refusing import refusal
from tests.sampling import how_many


def note_at(started_s, string, fret, velocity=80):
    place = Place(string, fret)
    return PlayedNote(
        started_s=started_s,
        sounding=STANDARD.sounding(place),
        place=place,
        velocity=velocity,
        source="take.mid",
    )


def saved(path, *tracks, ticks_per_beat=480, file_type=1):
    file = mido.MidiFile(type=file_type, ticks_per_beat=ticks_per_beat)
    file.tracks.extend(mido.MidiTrack(track) for track in tracks)
    file.save(path)
    return path


def on(pitch, ticks=0, channel=0, velocity=80):
    return mido.Message("note_on", note=pitch, time=ticks, channel=channel, velocity=velocity)


def smf(track: bytes, *, division: bytes = b"\x01\xe0", tracks: int = 1, midi_format: int = 0) -> bytes:
    """A MIDI file by hand (SMF 1.1): header and one track of raw events."""
    header = b"MThd" + struct.pack(">LHH", 6, midi_format, tracks) + division
    return header + b"MTrk" + struct.pack(">L", len(track)) + track


END = b"\x00\xff\x2f\x00"


def test_channels_are_strings(tmp_path):
    take = saved(tmp_path / "take.mid", [on(64), on(59, 480, channel=1), on(45, 480, channel=4)])
    assert [note.place for note in read_take(take).notes] == [Place(1, 0), Place(2, 0), Place(5, 0)]


def test_a_file_without_a_tempo_runs_at_120_quarters_a_minute(tmp_path):
    """SMF 1.1: 500,000 µs a quarter."""
    take = saved(tmp_path / "take.mid", [on(64), on(65, 480), on(67, 240)])
    assert [note.started_s for note in read_take(take).notes] == [0.0, 0.5, 0.75]


def test_the_tempo_map_of_another_track_is_kept(tmp_path):
    tempos = [
        mido.MetaMessage("set_tempo", tempo=1_000_000),
        mido.MetaMessage("set_tempo", tempo=250_000, time=960),
    ]
    take = saved(tmp_path / "take.mid", tempos, [on(64), on(65, 480), on(67, 480), on(69, 480)])
    assert [note.started_s for note in read_take(take).notes] == pytest.approx([0.0, 1.0, 2.0, 2.25])


def test_seconds_are_those_mido_counts(tmp_path):
    """Reference: mido's own iteration over a file with a tempo map."""
    tempos = [mido.MetaMessage("set_tempo", tempo=300_000 + 70_000 * n, time=333) for n in range(9)]
    take = saved(tmp_path / "take.mid", tempos, [on(50 + n, 211 * n) for n in range(12)])
    at_s, expected = 0.0, []
    for message in mido.MidiFile(take):
        at_s += message.time
        if message.type == "note_on":
            expected.append(at_s)
    assert [note.started_s for note in read_take(take, keyboard=True).notes] == pytest.approx(expected)


@pytest.mark.parametrize(
    ("division", "second"),
    [(b"\xe7\x28", 0.5), (b"\xe3\x28", 500 / (40 * 30_000 / 1001))],
)
def test_files_that_count_frames_are_read_in_seconds(tmp_path, division, second):
    """SMF 1.1, SMPTE division: 25 frames of 40 ticks make 1,000 a second; 29 stands for 29.97 frames."""
    (tmp_path / "take.mid").write_bytes(smf(b"\x00\x90\x40\x50\x83\x74\x90\x42\x50" + END, division=division))
    assert [note.started_s for note in read_take(tmp_path / "take.mid").notes] == pytest.approx([0.0, second])


def test_running_status_and_velocity_0_are_understood(tmp_path):
    (tmp_path / "take.mid").write_bytes(smf(b"\x00\x90\x40\x50\x60\x40\x00\x00\x42\x50" + END))
    assert [note.sounding for note in read_take(tmp_path / "take.mid").notes] == [64, 66]


def test_a_keyboards_channels_are_ignored(tmp_path):
    take = saved(tmp_path / "take.mid", [on(64, channel=9), on(40, 480)])
    assert [(note.sounding, note.place) for note in read_take(take, keyboard=True).notes] == [
        (64, None),
        (40, None),
    ]


def test_a_pitch_its_string_does_not_have_has_no_place(tmp_path):
    take = saved(tmp_path / "take.mid", [on(40)])
    assert read_take(take).notes[0].place is None


def test_another_tuning_gives_other_frets(tmp_path):
    take = saved(tmp_path / "take.mid", [on(40, channel=5)])
    assert read_take(take, tuning=tuning_named("drop-d")).notes[0].place == Place(6, 2)


def test_what_is_written_is_read_again(tmp_path):
    notes = tuple(note_at(0.25 * n, 1 + n % 6, n % 12, velocity=40 + n) for n in range(40))
    write_take(tmp_path / "take.mid", notes)
    assert read_take(tmp_path / "take.mid").notes == notes


@settings(max_examples=how_many(50, by_default=12), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.integers(0, 5000), st.integers(1, 6), st.integers(0, 22)), min_size=1, max_size=30))
def test_any_take_survives_writing_and_reading_to_the_millisecond(tmp_path, played):
    starts_ms = sorted({start_ms for start_ms, _, _ in played})
    notes = tuple(
        note_at(start_ms / 1000, string, fret) for start_ms, (_, string, fret) in zip(starts_ms, played, strict=False)
    )
    write_take(tmp_path / "take.mid", notes)
    back = read_take(tmp_path / "take.mid", filtered=False).notes
    assert [(note.place, note.sounding) for note in back] == [(note.place, note.sounding) for note in notes]
    assert [note.started_s for note in back] == pytest.approx([note.started_s for note in notes])


def test_written_notes_end_before_the_next_on_their_string(tmp_path):
    write_take(tmp_path / "take.mid", [note_at(0.0, 1, 0), note_at(0.1, 1, 0), note_at(2.0, 2, 0)])
    kinds = [message.type for message in mido.MidiFile(tmp_path / "take.mid") if not message.is_meta]
    assert kinds == ["note_on", "note_off"] * 3


def test_a_note_before_time_0_is_not_written(tmp_path):
    with refusal(TakeError, "before the beginning"):
        write_take(tmp_path / "take.mid", [note_at(-0.1, 1, 0)])


def test_a_place_that_cannot_be_written_to_is_told(tmp_path):
    with refusal(TakeError, "cannot be written: No such file or directory; choose another place"):
        write_take(tmp_path / "no folder" / "take.mid", [note_at(0.0, 1, 0)])


HOSTILE = {
    "empty": (b"", "is not a MIDI file"),
    "text": (b"a shopping list", "is not a MIDI file"),
    "header only": (b"MThd", "broken MIDI file"),
    "cut short": (smf(b"\x00\x90\x40\x50" + END)[:-6], r"broken MIDI file \(it stops too early\)"),
    "no ticks": (smf(b"\x00\x90\x40\x50" + END, division=b"\x00\x00"), "no ticks to count"),
    "no ticks a frame": (smf(b"\x00\x90\x40\x50" + END, division=b"\xe7\x00"), "no ticks to count"),
    "several songs": (smf(b"\x00\x90\x40\x50" + END, midi_format=2), "MIDI format 2"),
    "unknown format": (smf(b"\x00\x90\x40\x50" + END, midi_format=7), "MIDI format 7"),
    "a number without end": (smf(b"\xff" * 900_000), "a number without end"),
    "a wait without end": (smf(b"\xff\xff\xff\xff\xff\x7f\x90\x40\x50" + END), "a wait without end"),
    "tracks that are not there": (smf(b"\x00\x90\x40\x50" + END, tracks=60_000), "tracks are not all there"),
    "no status": (smf(b"\x00\x40\x50" + END), "broken MIDI file"),
    "no notes": (smf(b"\x00\xb0\x07\x64" + END), "holds no notes"),
    "too many notes": (
        smf(b"\x00\x90" + b"\x40\x50\x01" * 10_001 + b"\xff\x2f\x00"),
        "more than 10,000 notes",
    ),
    "too large": (b"MThd" + bytes(MOST_BYTES), "larger than 1 MB"),
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_file_ends_in_one_sentence_that_names_it(tmp_path, kind):
    content, sentence = HOSTILE[kind]
    path = tmp_path / "take.mid"
    path.write_bytes(content)
    with refusal(TakeError, sentence) as told:
        read_take(path)
    assert tell(told.value.message).startswith(str(path))
    assert "\n" not in tell(told.value.message)


def test_a_missing_file_and_a_folder_are_told(tmp_path):
    with refusal(TakeError, "cannot be read: No such file"):
        read_take(tmp_path / "none.mid")
    with refusal(TakeError, "cannot be read: Is a directory"):
        read_take(tmp_path)


GOOD = smf(b"\x00\xff\x51\x03\x07\xa1\x20\x00\x90\x40\x50\x60\x40\x00\x00\xf0\x02\x41\xf7\x00\xff\x01\x02hi" + END)


@settings(
    max_examples=how_many(300, by_default=75),
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    st.lists(st.tuples(st.integers(0, len(GOOD) - 1), st.integers(0, 255)), max_size=6),
    st.binary(max_size=20),
)
def test_a_mutated_file_is_read_or_refused_and_nothing_else(tmp_path, changes, tail):
    content = bytearray(GOOD)
    for where, byte in changes:
        content[where] = byte
    (tmp_path / "take.mid").write_bytes(bytes(content) + tail)
    try:
        notes = read_take(tmp_path / "take.mid").notes
    except TakeError:
        return
    assert all(earlier.started_s <= later.started_s for earlier, later in pairwise(notes))


def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "take.mid")
    with refusal(TakeError, "is not a MIDI file"):
        read_take(tmp_path / "take.mid")
