"""A tune that was entered is a MusicXML file that our reader and music21 (from PyPI) read back equal."""

from dataclasses import replace
from fractions import Fraction
from xml.etree import ElementTree as ET

import pytest

from game.music.score import Reading
from game.screens.writing.written_tune import as_musicxml, file_stem, write_tune
from game.tunes.entering.draft import Draft, DraftPitch
from game.tunes.entering.draft_score import draft_page
from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess
from tests.engraving.by_music21 import read_by_music21
from tests.sampling import how_many, sample
from tests.tunes.entering.any_order import played_at_random
from tests.tunes.entering.made_drafts import made_draft


@pytest.fixture(scope="module")
def read():
    """One reading process for all that is read here."""
    with ReadingProcess() as process:
        yield lambda text: read_tune(text, process=process)


def test_our_reader_reads_back_what_was_entered(read):
    """Pitches, onsets, lengths, ties, triplets, key, metre, pickup, repeats, endings, chord symbols, title, swing: the
    bars are the same bars.
    """
    for seed in range(how_many(400, by_default=10)):
        draft = made_draft(seed)
        score, found = draft_page(draft).score, read(as_musicxml(draft).encode())
        assert found.bars == score.bars, seed
        assert (found.title, found.composer, found.swung) == (score.title, score.composer, score.swung), seed
        assert (found.reading, found.warnings) == (score.reading, ()), seed


@pytest.mark.parametrize("seed", sample(range(100, 200), by_default=1))
def test_music21_reads_back_what_was_entered(seed):
    draft = made_draft(seed)
    bars = draft_page(draft).score.bars
    part = read_by_music21(as_musicxml(draft))
    measures = list(part.getElementsByClass("Measure"))
    assert [notes_by_music21(measure) for measure in measures] == [notes_of(bar) for bar in bars]
    assert [exact(measure.duration.quarterLength) for measure in measures] == [bar.length for bar in bars]
    assert {key.sharps for key in part.recurse().getElementsByClass("KeySignature")} == {draft.key.fifths}
    assert {time.ratioString for time in part.recurse().getElementsByClass("TimeSignature")} == {draft.meter.text}
    assert [repeats_by_music21(measure) for measure in measures] == [
        (bar.marks.repeat_start, bool(bar.marks.repeat_end)) for bar in bars
    ]
    assert endings_by_music21(part, measures) == [bar.marks.endings for bar in bars]
    assert [chords_by_music21(measure) for measure in measures] == [chords_of(bar) for bar in bars]


def exact(quarters) -> Fraction:
    """music21 adds up some offsets as floats."""
    return Fraction(quarters).limit_denominator(1000)


def notes_by_music21(measure) -> list:
    return [
        (exact(note.offset), exact(note.quarterLength), note.nameWithOctave.replace("-", "b"), ties(note.tie))
        for note in measure.recurse().notes
        if note.isNote
    ]


def ties(tie) -> tuple[bool, bool]:
    """Whether the note is tied to the one before, and to the next."""
    kind = tie.type if tie else ""
    return kind in ("stop", "continue"), kind in ("start", "continue")


def notes_of(bar) -> list:
    """An octave lower than on the page: the clef says so."""
    return [
        (note.onset, note.length, note.pitch.up_octaves(-1).name, (note.tied_from_previous, note.tied_to_next))
        for note in bar.notes
    ]


def repeats_by_music21(measure) -> tuple[bool, bool]:
    left, right = (getattr(line, "direction", None) for line in (measure.leftBarline, measure.rightBarline))
    return left == "start", right == "end"


def endings_by_music21(part, measures) -> list:
    under = {}
    for bracket in part.recurse().getElementsByClass("RepeatBracket"):
        for measure in bracket.getSpannedElements():
            under[measure.id if isinstance(measure.id, str) else id(measure)] = tuple(bracket.numberRange)
    return [under.get(measure.id if isinstance(measure.id, str) else id(measure), ()) for measure in measures]


def chords_by_music21(measure) -> list:
    return [
        (
            exact(chord.offset),
            ((chord.root() and chord.root().name) or "").replace("-", "b") if chord.chordKind != "none" else "",
        )
        for chord in measure.recurse().getElementsByClass("Harmony")
    ]


def chords_of(bar) -> list:
    return [(chord.onset, chord.root) for chord in bar.chords]


def test_a_page_of_a_player_who_reads_at_concert_pitch_stays_as_it_is(read):
    draft = replace(made_draft(1), reading=Reading.CONCERT)
    assert read(as_musicxml(draft).encode()).bars == draft_page(draft).score.bars


def test_a_tune_is_written_under_its_title_and_written_again_in_its_place(tmp_path):
    path, kept = write_tune(tmp_path, Draft(title="The Ford", pitches=(DraftPitch(sounding=60),)))
    assert path.name == kept.kept_as == "The Ford.musicxml"
    again, _ = write_tune(tmp_path, replace(kept, title="Another name"))
    assert again == path
    assert ET.parse(path).findtext("work/work-title") == "Another name"


def test_another_tune_of_the_same_title_keeps_its_own_file(tmp_path):
    draft = Draft(title="The Ford", pitches=(DraftPitch(sounding=60),))
    names = [write_tune(tmp_path, draft)[0].name for _ in range(3)]
    assert names == ["The Ford.musicxml", "The Ford 2.musicxml", "The Ford 3.musicxml"]


@pytest.mark.parametrize(
    ("title", "stem"),
    sample(
        [
            ("Über den Fluß", "Über den Fluß"),
            ("../../etc/passwd", "etc passwd"),
            ("a/b\\c:d", "a b c d"),
            ("...", "tune tune"),
            ("", "tune tune"),
            ("CON", "CON tune"),
            ("x" * 200, "x" * 60),
            ("<b>&", "b"),
        ],
        by_default=1,
    ),
)
def test_a_title_makes_a_name_that_every_system_takes(title, stem):
    assert file_stem(title) == stem


def test_what_was_entered_in_any_order_is_read_back_as_well(read):
    for seed in range(how_many(300, by_default=3)):
        draft = replace(played_at_random(seed).draft, title="Any Order")
        if draft.complete:
            assert read(as_musicxml(draft).encode()).bars == draft_page(draft).score.bars, seed
