"""ABC into Scores: each sign by hand, then real tunes against two programs that read ABC.

Sources: the ABC standard 2.1 (pub, quoted from memory), `abc2midi` (Debian package abcmidi), and the ABC reader of the
`music21` library over its corpus.
"""

import warnings
from fractions import Fraction

import pytest

from game.music.order import order_of_play
from game.music.score import BarLine, Reading
from game.music.written import written_notes
from tests.sampling import how_many
from tests.system.needs import require
from tests.tunes.abc.hand_written_abc import abc, abc_score, letters_played
from tests.tunes.by_abc2midi import EXPLAINED, corpus_tunes, ours, outcome, same, sample, theirs
from tests.tunes.read_here import read_here
from tests.tunes.told import warnings_told


def test_bars_against_the_metre_are_named():
    """Read as they stand."""
    assert warnings_told(abc_score("C4 | D3 | E5 | F4")) == (
        "Shorter or longer than the metre asks for, and read as they stand: bars 2, 3.",
    )


def test_parts_are_written_out_in_the_order_of_the_header():
    """`P:ABA2` and what is repeated inside a part."""
    score = abc_score("P:A\nC4 :|\nP:B\nD4 |", more="P:ABA2\n")
    assert letters_played(score) == "CCDCCCC"
    assert "The parts were written out in the order ABAA." in warnings_told(score)


@pytest.mark.parametrize(
    ("music", "order", "played", "told"),
    [
        (
            "P:A\nC4 |\nP:B\nD4 |\nP:C\nE4 |",
            "ABA",
            "CDC",
            "Part C is left out: the order of the parts does not name it.",
        ),
        (
            "P:A\nC4 |\nP:B\nD4 |",
            "ACDB",
            "CD",
            "The order of the parts asks for parts C, D, which the music does not have.",
        ),
        (
            "C4 | D4 |",
            "AABB",
            "CD",
            "The order of the parts is AABB, but none of them is marked in the music: it is played as it stands.",
        ),
    ],
)
def test_what_the_order_of_the_parts_leaves_out_or_asks_for_in_vain_is_told(music, order, played, told):
    score = abc_score(music, more=f"P:{order}\n")
    assert letters_played(score) == played
    assert told in warnings_told(score)


def test_parts_written_out_keep_their_letters_and_bar_lines():
    bars = abc_score("P:A\nC4 ||\nP:B\nD4 |]", more="P:A2BA\n").bars
    assert [bar.marks.section for bar in bars] == ["A", "A", "B", "A"]
    assert [bar.marks.bar_line is BarLine.DOUBLE for bar in bars] == [True, True, False, True]


def test_title_composer_and_swing_come_from_the_header():
    """With accents as ABC writes them."""
    score = abc_score("C4", more='C:Andr\\\'e\nQ:"Swing" 1/4=140\n')
    assert (score.title, score.composer, score.swung, score.file_format) == ("Ford", "André", True, "abc")


@pytest.mark.parametrize(
    ("field", "read", "sounding", "fixed"),
    [
        ("C", Reading.GUITAR, 48, False),
        ("C", Reading.CONCERT, 60, False),
        ("C clef=treble-8", Reading.GUITAR, 48, True),
        ("C clef=treble-8", Reading.CONCERT, 48, True),
        ("C octave=1", Reading.GUITAR, 60, False),
    ],
)
def test_the_octave_is_settled_as_for_a_lead_sheet(field, read, sounding, fixed):
    """Middle C is C; with treble-8 the player sounds an octave below (ABC 2.1)."""
    score = read_here(abc("C4", key=field), read=read)
    assert written_notes(score.bars, score.reading)[0].sounding == sounding
    assert (score.sound_fixed, bool(score.octave_reason)) == (fixed, True)


@pytest.mark.parametrize(
    ("field", "choice", "reading", "sounding"),
    [
        ("C clef=bass", None, Reading.CONCERT_BASS, 36),
        ("C clef=bass", Reading.BASS, Reading.BASS, 24),
        ("C clef=bass-8", Reading.GUITAR, Reading.BASS, 24),
        ("C clef=treble", Reading.BASS, Reading.GUITAR, 24),
    ],
)
def test_a_tune_in_the_bass_clef_stays_in_it(field, choice, reading, sounding):
    """C,, is two octaves below middle C; with the 8 it sounds another one below (ABC 2.1)."""
    score = read_here(abc("C,,4", key=field), read=choice)
    note = written_notes(score.bars, score.reading)[0]
    assert (score.reading, note.pitch.name, note.sounding) == (reading, "C2", sounding)


def test_real_tunes_are_played_as_abc2midi_plays_them(tmp_path):
    """25 tunes of four collections, repeats included; `python -m tests.bench.abc` does 200."""
    require("abc2midi", package="abcmidi")
    results = {name: outcome(text, tmp_path) for name, text in sample(corpus_tunes(), 25)}
    assert {name for name, result in results.items() if result == "different"} <= set(EXPLAINED)
    assert sum(result.startswith("equal") for result in results.values()) >= 0.97 * len(results)
    assert sum(result == "equal" for result in results.values()) >= 0.8 * len(results)


def test_the_comparison_with_abc2midi_can_fail(tmp_path):
    """A tone changed in one bar is seen."""
    require("abc2midi", package="abcmidi")
    heard = theirs(abc("|: C D E F :| G4"), tmp_path)
    assert same(ours(abc("|: C D E F :| G4")), heard)
    assert not same(ours(abc("|: C D E ^F :| G4")), heard)
    assert not same(ours(abc("C D E F | G4")), heard)


def music21_notes(text: bytes):
    """Onset and sounding number by music21, given the text with a header that says how far accidentals hold."""
    from music21 import converter

    header = "%abc-2.1\n%%propagate-accidentals pitch\n"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        score = converter.parseData(header + text.decode("latin-1"), format="abc")
    part = score.parts[0]
    notes, start = [], Fraction(0)
    for measure in part.getElementsByClass("Measure"):
        for note in measure.notes:
            # It cuts notes that overfill a bar, and ties them.
            tied = note.tie is not None and note.tie.type != "start"
            if "ChordSymbol" in note.classes or note.duration.isGrace or tied:
                continue
            top = max(one.midi for one in note.pitches)
            notes.append((start + Fraction(note.offset).limit_denominator(960), top))
        start += Fraction(measure.highestTime).limit_denominator(960)
    return notes


# Digits without a note ("62", "4") are left in a damaged line: music21 gives them to the bar, we pass them over.
DAMAGED = {"essenFolksong/lot/107"}


def test_songs_without_repeats_have_the_notes_music21_reads():
    """Every 320th song of the largest collection (every 960th by default): onset and sounding number of every note of
    the page, ties joined.
    """
    pytest.importorskip("music21")
    songs = [tune for tune in corpus_tunes() if tune[0].startswith("essen") and b":|" not in tune[1]][
        :: how_many(320, by_default=960)
    ]
    different = set()
    for name, text in songs:
        bars = read_here(text, name="tune.abc", read=Reading.CONCERT).bars
        assert order_of_play(bars) == tuple(range(len(bars)))
        here = [(note.onset, note.sounding) for note in written_notes(bars, Reading.CONCERT)]
        if here != music21_notes(text):
            different.add(name)
    assert len(songs) >= how_many(20, by_default=7)
    assert different <= DAMAGED
