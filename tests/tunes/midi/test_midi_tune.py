"""MIDI files into Scores: by hand, with a player's jitter, and files that another program wrote.

Sources: Standard MIDI File 1.1 (pub) for the defaults; `abc2midi` (Debian package abcmidi) as an independent writer.
"""

import random
from fractions import Fraction

import mido
import pytest

from game.errors import TuneError
from game.music.score import Reading
from game.music.written import written_notes, written_out
from game.tunes.library.library import open_entry, shipped_entries
from game.tunes.midi.quantised import quantise
from tests.refusing import refusal
from tests.system.needs import require
from tests.tunes.by_abc2midi import abc2midi_file, corpus_tunes, sample
from tests.tunes.made_midi import jittered, midi_bytes, steps
from tests.tunes.read_here import read_here
from tests.tunes.told import warnings_told

THIRD = Fraction(1, 3)
BEATS = [
    [1], [1], [0.5, 0.5], [0.5, 0.5], [0.25] * 4, [THIRD] * 3, [0.75, 0.25], [0.5, 0.25, 0.25], [0.25, 0.25, 0.5],
    [2], [1.5, 0.5], [3],
]  # fmt: skip


def row(score) -> str:
    """Bars apart; pitch and length of each note, ties as ~, rests as z."""
    return " | ".join(
        " ".join(
            f"{event.pitch}:{event.length}" + ("~" if event.tied_to_next else "")
            if hasattr(event, "pitch")
            else f"z{event.length}"
            for event in bar.events
        )
        for bar in score.bars
    )


def read(*tracks, part=None, choice=None, **signs):
    signs.setdefault("meters", [(0, 4, 4)])
    signs.setdefault("keys", [(0, "C")])
    return read_here(midi_bytes(*tracks, **signs), name="tune.mid", part=part, read=choice)


def test_a_line_comes_out_bar_by_bar():
    """Sounding A3 stands on the page as A4."""
    score = read(steps(1, 1, 0.5, 0.5, 1, 2, 2, first=48))
    assert row(score) == "C4:1 D4:1 E4:1/2 F4:1/2 G4:1 | A4:2 B4:2"
    assert (score.file_format, score.sound_fixed, score.warnings) == ("midi", True, ())
    assert written_notes(score.bars, score.reading)[0].sounding == 48


def test_without_signs_a_file_is_in_four_quarters_and_its_key_is_guessed_and_said():
    """Standard MIDI File 1.1 for the metre; the key is ours."""
    score = read(steps(*[1] * 7, 1, first=53), meters=(), keys=())
    assert (score.bars[0].meter.text, score.bars[0].key.name) == ("4/4", "F")
    assert warnings_told(score) == (
        "The file names no metre: 4/4 was assumed.",
        "The file names no key: F major was guessed from its notes.",
    )


def test_triplets_stand_in_their_beat_beside_straight_ones():
    """Eighth triplets, and a quarter with an eighth in the time of a beat."""
    score = read(steps(THIRD, THIRD, THIRD, 0.5, 0.5, 2 * THIRD, THIRD, 1, first=48))
    assert row(score) == "C4:1/3 D4:1/3 E4:1/3 F4:1/2 G4:1/2 A4:2/3 B4:1/3 C4:1"
    notes = score.bars[0].notes
    assert [note.value.tuplet is not None for note in notes] == [True] * 3 + [False] * 2 + [True] * 2 + [False]
    assert (notes[0].value.tuplet.starts, notes[2].value.tuplet.stops) == (True, True)


def test_swing_at_two_to_one_is_written_as_straight_eighths_and_said():
    """Twelve pairs, long and short."""
    lengths = [2 * THIRD, THIRD] * 6 + [2]
    score = read(steps(*lengths, first=48))
    assert [note.onset for note in score.bars[0].notes] == [Fraction(k, 2) for k in range(8)]
    assert score.swung is True
    assert "The eighths are swung, about 2.0 to 1: they are written straight." in warnings_told(score)


@pytest.mark.parametrize(("ratio", "swung"), [(1.0, None), (1.5, True), (1.8, True), (2.2, True), (3.0, None)])
def test_swing_is_told_from_straight_and_from_dotted_eighths(ratio, swung):
    """With a player's jitter; three to one is a dotted eighth and a sixteenth."""
    long = ratio / (1 + ratio)
    notes = steps(*[length for _ in range(16) for length in (long, 1 - long)], first=48)
    score = read(jittered(notes, random.Random(3), most_ms=10))
    assert score.swung is swung
    off_beats = {note.onset % 1 for bar in score.bars for note in bar.notes} - {0}
    assert off_beats == {Fraction(3, 4) if ratio == 3 else Fraction(1, 2)}


def test_triplets_among_swung_eighths_stay_triplets():
    """Only the single off-beat is moved."""
    score = read(steps(*[2 * THIRD, THIRD] * 6, THIRD, THIRD, THIRD, 1, first=48))
    assert row(score).endswith("A4:1/3 B4:1/3 C4:1/3 D4:1")
    assert score.swung is True


def test_a_first_bar_that_is_silent_for_half_or_more_is_a_pickup():
    """As notation programs write a pickup: rests before it."""
    score = read(steps(1, *[1] * 8, start=3, first=48))
    assert [(bar.number, bar.length, bar.pickup) for bar in score.bars] == [
        ("0", 1, True), ("1", 4, False), ("2", 4, False),
    ]  # fmt: skip
    assert written_notes(score.bars, score.reading)[0].onset == 0


def test_a_short_metre_of_its_own_is_a_pickup():
    """As other programs write it: one bar of 1/4, then 4/4."""
    score = read(steps(1, *[1] * 8, first=48), meters=[(0, 1, 4), (1, 4, 4)])
    assert [(bar.number, bar.length, bar.pickup, bar.meter.text) for bar in score.bars[:2]] == [
        ("0", 1, True, "4/4"), ("1", 4, False, "4/4"),
    ]  # fmt: skip


def test_bar_lines_that_every_long_note_crosses_are_moved_to_give_a_pickup():
    """A pickup at the very beginning, with no sign of it: whole notes would be tied over every bar line."""
    score = read(steps(1, 4, 3, 1, 4, 3, 1, 4, 3, first=48))
    assert (score.bars[0].length, score.bars[0].pickup) == (1, True)
    assert not any(note.tied_to_next for bar in score.bars for note in bar.notes)
    assert "The bar lines were moved so that the tune begins with a pickup bar." in warnings_told(score)


def test_empty_bars_at_the_beginning_are_left_out_and_said():
    """A count-in."""
    score = read(steps(1, 1, 1, 1, start=8, first=48))
    assert row(score) == "C4:1 D4:1 E4:1 F4:1"
    assert "2 empty bars at the beginning were left out." in warnings_told(score)


def test_rests_are_written_and_touch_is_not():
    """A quarter played short is a quarter; a silent beat is a rest."""
    score = read([(0, 0.8, 48), (1, 0.9, 50), (3, 0.75, 52)])
    assert row(score) == "C4:1 D4:1 z1 E4:1"


def test_notes_over_bar_lines_and_off_the_beat_are_tied():
    """The beat stays in sight."""
    score = read(steps(3, 2, 0.25, 1, 1.75, first=48))
    assert row(score) == "C4:3 D4:1~ | D4:1 E4:1/4 F4:3/4~ F4:1/4 G4:3/4~ G4:1"
    assert [n.length for n in written_notes(score.bars, score.reading)] == [3, 2, Fraction(1, 4), 1, Fraction(7, 4)]


def test_compound_metres_are_divided_in_eighths():
    """6/8 with sixteenths: no triplets, no swing."""
    score = read(steps(0.5, 0.25, 0.25, 0.5, 1, 0.5, first=48), meters=[(0, 6, 8)])
    assert row(score) == "C4:1/2 D4:1/4 E4:1/4 F4:1/2 G4:1 A4:1/2"
    assert score.swung is None


def test_metres_and_keys_may_change():
    """Signs in the first track hold for all."""
    score = read(steps(*[1] * 10, first=48), meters=[(0, 4, 4), (4, 3, 4)], keys=[(0, "C"), (4, "Eb")])
    assert [(bar.meter.text, bar.key.name) for bar in score.bars] == [("4/4", "C"), ("3/4", "Eb"), ("3/4", "Eb")]


SPELLINGS = [
    ("C", [48, 49, 50], "C C# D"),
    ("C", [50, 49, 48], "D Db C"),
    ("C", [55, 54, 55], "G F# G"),
    ("Bb", [58, 57, 56, 55], "Bb A Ab G"),
    ("F", [53, 54, 55], "F F# G"),
    ("Am", [57, 56, 57], "A G# A"),
    ("Am", [52, 54, 56, 57], "E F# G# A"),
    ("Dm", [50, 49, 50], "D C# D"),
    ("Cm", [60, 59, 57, 55], "C B A G"),
    ("E", [52, 53, 54], "E F F#"),
    ("Gb", [59, 58], "Cb Bb"),
    ("D", [53, 52], "F E"),
]


@pytest.mark.parametrize(("key", "numbers", "names"), SPELLINGS)
def test_notes_are_spelled_by_key_and_direction(key, numbers, names):
    """Common practice (trade): raised going up, lowered going down, the minor's own sixth and seventh."""
    score = read([(at, 1, midi) for at, midi in enumerate(numbers)], keys=[(0, key)])
    assert " ".join(note.pitch.name.rstrip("0123456789") for bar in score.bars for note in bar.notes) == names


def test_of_chords_and_of_what_sounds_under_a_held_note_the_top_is_read():
    """And how many were left out is said."""
    score = read([(0, 1, 48), (0, 1, 52), (0.01, 1, 55), (1, 2, 60), (1.5, 0.5, 48), (3, 1, 53)])
    assert row(score) == "G4:1 C5:2 F4:1"
    assert "Of notes that sound together the top one was read: 3 notes were left out." in warnings_told(score)


def test_the_highest_line_is_taken_for_the_melody_unless_a_part_is_chosen():
    """Chords and a bass are there too; which was taken is said."""
    chords = [(at, 2, midi) for at in (0, 2) for midi in (64, 67, 72)]
    tracks = (steps(1, 1, 1, 1, first=36), chords, steps(1, 1, 1, 1, first=48))
    names = ("bass", "piano", "flute")
    score = read(*tracks, names=names)
    assert (row(score), score.part) == ("C4:1 D4:1 E4:1 F4:1", "flute")
    assert warnings_told(score)[0] == "Of 3 parts (1 bass, 2 piano, 3 flute) flute was taken for the melody."
    assert row(read(*tracks, names=names, part=1)) == "C3:1 D3:1 E3:1 F3:1"
    with refusal(TuneError, r"has 3 parts .*, no part 4; choose one of those"):
        read(*tracks, names=names, part=4)


def test_drums_are_no_part():
    """Channel 10 holds no pitches (General MIDI)."""
    with refusal(TuneError, "without notes"):
        read(*[[] for _ in range(9)], steps(1, 1, 1, first=40))


@pytest.mark.parametrize(
    ("first", "program", "choice", "page", "sounding"),
    [
        (52, None, None, "E4", 52),
        (52, None, Reading.CONCERT, "E3", 52),
        (72, None, None, "C5", 60),
        (72, 26, None, "C6", 72),
        (72, None, Reading.CONCERT, "C5", 72),
    ],
)
def test_the_octave_of_the_page_is_settled_and_said(first, program, choice, page, sounding):
    """Numbers are what sounds (MIDI 1.0); a line too high for a guitar is taken for a lead sheet's page."""
    score = read(steps(1, 1, 1, 1, first=first), program=program, choice=choice)
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
    score = read(jittered(notes, rng), keys=[(0, "F")])
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
    for entry in shipped_entries()[::4]:
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


def test_notes_that_keep_to_no_beat_are_said_to_be_a_guess():
    """Played freely, without the file's click."""
    rng = random.Random(8)
    notes = steps(*[rng.uniform(0.5, 1.4) for _ in range(40)], first=48)
    assert any("do not keep to the beats" in said for said in warnings_told(read(notes)))
    assert not any("do not keep" in said for said in warnings_told(read(jittered(steps(*[1] * 40, first=48), rng))))


def test_quantising_nothing_gives_nothing():
    """No onsets, no grid."""
    assert quantise([]).onsets == ()


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
