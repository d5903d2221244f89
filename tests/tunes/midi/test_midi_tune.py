"""MIDI files into Scores: by hand, with a player's jitter, and files that another program wrote.

Sources: Standard MIDI File 1.1 (pub) for the defaults; `abc2midi` (Debian package abcmidi) as an independent writer.
"""

import random
from fractions import Fraction

import mido
import pytest

from game.music.score import Reading
from game.music.written import written_notes, written_out
from game.tunes.library.library import open_entry
from tests.system.needs import require
from tests.tunes.book_by_number import book_by_number
from tests.tunes.by_abc2midi import abc2midi_file, corpus_tunes, sample
from tests.tunes.made_midi import jittered, midi_bytes, midi_score, row, steps
from tests.tunes.read_here import read_here
from tests.tunes.told import warnings_told

THIRD = Fraction(1, 3)
BEATS = [
    [1], [1], [0.5, 0.5], [0.5, 0.5], [0.25] * 4, [THIRD] * 3, [0.75, 0.25], [0.5, 0.25, 0.25], [0.25, 0.25, 0.5],
    [2], [1.5, 0.5], [3],
]  # fmt: skip


def test_a_line_comes_out_bar_by_bar():
    """Sounding A3 stands on the page as A4."""
    score = midi_score(steps(1, 1, 0.5, 0.5, 1, 2, 2, first=48))
    assert row(score) == "C4:1 D4:1 E4:1/2 F4:1/2 G4:1 | A4:2 B4:2"
    assert (score.file_format, score.sound_fixed, score.warnings) == ("midi", True, ())
    assert written_notes(score.bars, score.reading)[0].sounding == 48


def test_markers_that_name_a_section_stand_over_the_bar_they_are_nearest_to():
    """Meta event 6 is a "rehearsal letter or section name" (Standard MIDI File 1.1); a program's own words are not."""
    markers = [(0.0, "Intro"), (3.9, "A"), (8.0, "loop start"), (12.1, "2nd Chorus"), (400.0, "Outro")]
    score = midi_score(steps(*[1] * 16), meters=[(0, 4, 4)], markers=markers)
    assert [bar.marks.section for bar in score.bars] == ["Intro", "A", "", "2nd Chorus"]


def test_a_marker_before_a_silence_that_is_left_out_moves_with_the_bars():
    score = midi_score(steps(*[1] * 8, start=8.0), meters=[(0, 4, 4)], markers=[(8.0, "Verse"), (12.0, "Chorus")])
    assert [bar.marks.section for bar in score.bars] == ["Verse", "Chorus"]


def test_without_signs_a_file_is_in_four_quarters_and_its_key_is_guessed_and_said():
    """Standard MIDI File 1.1 for the metre; the key is ours."""
    score = midi_score(steps(*[1] * 7, 1, first=53), meters=(), keys=())
    assert (score.bars[0].meter.text, score.bars[0].key.name) == ("4/4", "F")
    assert warnings_told(score) == (
        "The file names no metre: 4/4 was assumed.",
        "The file names no key: F major was guessed from its notes.",
    )


def test_a_short_metre_of_its_own_is_a_pickup():
    """As other programs write it: one bar of 1/4, then 4/4."""
    score = midi_score(steps(1, *[1] * 8, first=48), meters=[(0, 1, 4), (1, 4, 4)])
    assert [(bar.number, bar.length, bar.pickup, bar.meter.text) for bar in score.bars[:2]] == [
        ("0", 1, True, "4/4"), ("1", 4, False, "4/4"),
    ]  # fmt: skip


def test_rests_are_written_and_touch_is_not():
    """A quarter played short is a quarter; a silent beat is a rest."""
    score = midi_score([(0, 0.8, 48), (1, 0.9, 50), (3, 0.75, 52)])
    assert row(score) == "C4:1 D4:1 z1 E4:1"


def test_notes_over_bar_lines_and_off_the_beat_are_tied():
    """The beat stays in sight."""
    score = midi_score(steps(3, 2, 0.25, 1, 1.75, first=48))
    assert row(score) == "C4:3 D4:1~ | D4:1 E4:1/4 F4:3/4~ F4:1/4 G4:3/4~ G4:1"
    assert [n.length for n in written_notes(score.bars, score.reading)] == [3, 2, Fraction(1, 4), 1, Fraction(7, 4)]


def test_metres_and_keys_may_change():
    """Signs in the first track hold for all."""
    score = midi_score(steps(*[1] * 10, first=48), meters=[(0, 4, 4), (4, 3, 4)], keys=[(0, "C"), (4, "Eb")])
    assert [(bar.meter.text, bar.key.name) for bar in score.bars] == [("4/4", "C"), ("3/4", "Eb"), ("3/4", "Eb")]


@pytest.mark.parametrize(
    ("first", "program", "choice", "page", "sounding"),
    [
        (52, None, None, "E4", 52),
        (52, None, Reading.CONCERT, "E3", 52),
        (72, None, None, "C5", 60),
        (72, 26, None, "C6", 72),
        (72, None, Reading.CONCERT, "C5", 72),
        (28, 33, None, "E2", 28),
        (28, 33, Reading.CONCERT, "E2", 28),
        (40, None, Reading.BASS, "E3", 40),
        (40, None, Reading.CONCERT_BASS, "E2", 40),
        (72, None, Reading.BASS, "C5", 60),
    ],
)
def test_the_octave_of_the_page_is_settled_and_said(first, program, choice, page, sounding):
    """Numbers are what sounds (MIDI 1.0); a line too high for a guitar is taken for a lead sheet's page, and a bass
    (General MIDI programs 33-40, from 1) stands in the bass clef, an octave above its sound.
    """
    score = midi_score(steps(1, 1, 1, 1, first=first), program=program, choice=choice)
    first_note = written_notes(score.bars, score.reading)[0]
    assert (first_note.pitch.name, first_note.sounding, bool(score.octave_reason)) == (page, sounding, True)


@pytest.mark.parametrize("seed", range(40))
def test_a_line_played_with_jitter_is_read_back_note_by_note(seed):
    """Straight eighths and sixteenths, dotted ones and triplets at 100, 20 ms early or late: the same notes, the same
    onsets.
    """
    rng = random.Random(seed)
    lengths = []
    while sum(lengths) < 32:
        lengths += rng.choice(BEATS)
    notes, at, midi = [], Fraction(0), 57
    for length in lengths:
        midi = max(45, min(62, midi + rng.choice([-3, -2, -1, 1, 2, 4])))
        notes.append((at, length, midi))
        at += Fraction(length)
    # In the last beats there is always a straight pair: without one swing could not be told from triplets.
    score = midi_score(jittered(notes, rng), keys=[(0, "F")])
    back = [(note.onset, note.sounding) for note in written_notes(score.bars, score.reading)]
    assert back == [(onset, midi) for onset, _, midi in notes]
    assert sum(bar.length for bar in score.bars) >= at


def played_as_midi(score, rng) -> tuple[bytes, list]:
    """A shipped tune with its repeats, played by a person on a guitar after a silent start of the pickup bar; and its
    notes as they are written.
    """
    page = written_out(score)
    notes = written_notes(page.bars, page.reading)
    first = page.bars[0]
    silence = first.meter.bar_length - first.length if first.pickup else 0
    meters, at, before = [], Fraction(0), None
    for bar in page.bars:
        if bar.meter != before:
            meters.append((float(at), bar.meter.beats, bar.meter.unit))
            before = bar.meter
        at += bar.meter.bar_length if bar.pickup else bar.length
    plain = [(note.onset + silence, note.length, note.sounding) for note in notes]
    return midi_bytes(jittered(plain, rng), meters=meters, keys=[(0, first.key.name)], program=25), notes


def test_tunes_of_the_book_played_with_jitter_are_read_back_and_spelled_as_they_were():
    """Every fourth one: all onsets and numbers; nearly all spellings, for the chords are not known from the line."""
    right = count = 0
    for entry in book_by_number()[::4]:
        content, expected = played_as_midi(open_entry(entry), random.Random(entry.name))
        back = read_here(content, name="tune.mid")
        heard = written_notes(back.bars, back.reading)
        assert [(n.onset - heard[0].onset, n.sounding) for n in heard] == [
            (n.onset - expected[0].onset, n.sounding) for n in expected
        ], entry.name
        right += sum(ours.pitch == theirs.pitch for ours, theirs in zip(heard, expected, strict=True))
        count += len(expected)
    assert count > 1_000
    assert right >= 0.99 * count


def test_files_another_program_wrote_are_read_back_as_they_sound(tmp_path):
    """What abc2midi writes of real tunes: every sounding number and onset, from the first note on."""
    require("abc2midi", package="abcmidi")
    different = []
    tunes = [tune for tune in sample(corpus_tunes(), 25) if b"/" not in tune[1].split(b"\nK:")[1]]
    for name, text in tunes:
        path = abc2midi_file(text, tmp_path)
        # Numbers as abc2midi wrote them, at the page's octave.
        score = read_here(path.read_bytes(), name="tune.mid", part=1, read=Reading.CONCERT)
        back = [(note.onset, note.sounding) for note in written_notes(score.bars, score.reading)]
        plain = top_notes(path)
        start = plain[0][0]
        if [(onset - back[0][0], midi) for onset, midi in back] != [(onset - start, midi) for onset, midi in plain]:
            different.append(name)
    assert len(tunes) >= 15
    assert different == []


def top_notes(path) -> list[tuple[Fraction, int]]:
    """Onset and number in the first track with notes, straight from the messages: its files keep the ticks exactly."""
    file = mido.MidiFile(path)
    track = next(track for track in file.tracks if any(message.type == "note_on" for message in track))
    now, notes = 0, []
    for message in track:
        now += message.time
        if message.type == "note_on" and message.velocity:
            # abc2midi begins a tick late.
            notes.append((Fraction(max(0, now - 1), file.ticks_per_beat).limit_denominator(24), message.note))
    return notes
