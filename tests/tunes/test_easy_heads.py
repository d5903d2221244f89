"""The first heads a reader meets: lead sheets whole, in few notes that need no stretch."""

from functools import cache
from statistics import mean

import pytest

from game.music.written import written_out
from game.tunes.library.library import open_entry, shipped_entries
from tests.tunes.head_figures import head_excerpts, syncopations

ENTRIES = {entry.name: entry for entry in shipped_entries()}

# Each with how many bars are played, its sections in order of play, and whether it is swung.
EASY_HEADS = {
    "102-toast-for-two-cats": (24, "AA", True),
    "103-nod-across-the-street": (16, "ABAC", True),
    "104-lamps-at-low-tide": (16, "AB", False),
}
# None of them needs a stretch in the fifth position of a guitar in standard tuning.
PITCHES = {"G4", "A4", "Bb4", "C5", "C#5", "D5", "Eb5", "E5", "F5", "G5", "A5"}


@cache
def score_of(name):
    return open_entry(ENTRIES[name])


def played_bars(name):
    return [bar for bar in written_out(score_of(name)).bars if not bar.pickup]


@pytest.mark.parametrize(("name", "bars", "sections", "swung"), [(name, *of) for name, of in EASY_HEADS.items()])
def test_an_easy_head_is_a_lead_sheet_as_well(name, bars, sections, swung):
    """Boxed sections under chords, a word for the feel, a final bar line; written out as long as its form."""
    score, played = score_of(name), played_bars(name)
    assert len(played) == bars
    assert "".join(bar.marks.section for bar in played) == sections
    assert all(bar.chords for bar in played if bar.marks.section)
    assert score.feel
    assert score.swung is swung
    assert score.bars[-1].marks.divides


@pytest.mark.parametrize("name", EASY_HEADS)
def test_an_easy_head_reads_at_the_second_and_third_level(name):
    """Around the middle of the staff, one note outside the key at most; quarters, halves and a few eighths, hardly one
    held over a beat.
    """
    notes = [(bar, note) for bar in score_of(name).bars for note in bar.notes if not note.tied_from_previous]
    outside = {note.pitch.name for bar, note in notes if bar.key.alter_of(note.pitch.step) != note.pitch.alter}
    assert 1.6 <= ENTRIES[name].difficulty <= 2.1
    assert {note.pitch.name for _, note in notes} <= PITCHES
    assert len(outside) <= 1
    assert sum(note.length < 1 for _, note in notes) <= 0.4 * len(notes)
    assert mean(map(syncopations, head_excerpts(score_of(name)))) <= 0.1


@pytest.mark.parametrize("name", EASY_HEADS)
def test_an_easy_head_has_something_that_comes_back(name):
    """Its first two bars as they were, at least once."""
    bars = [[(note.onset, note.pitch) for note in bar.notes] for bar in played_bars(name)]
    assert bars[:2] in [bars[at : at + 2] for at in range(2, len(bars))]
