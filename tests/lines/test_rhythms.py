"""Rhythm levels, phrases, and how rhythms are written."""

from fractions import Fraction

import pytest

from game.lines.levels import LEVELS
from game.lines.rhythms import (
    BREATHS,
    DOTTED_BREATHS,
    DOTTED_FINALS,
    FINALS,
    METERS,
    RHYTHMS,
    beats_of,
    cells_of_bar,
    usual_rhythm,
)
from game.music.meter import Meter
from game.music.score import Note, Rest
from tests.lines.making import line, notes_of


def test_every_cell_fills_its_beats():
    for rhythm in RHYTHMS:
        for ticks, words in ((24, rhythm.halves), (12, rhythm.quarters), (18, rhythm.dotted)):
            assert all(sum(beat.ticks for beat in beats_of(word)) == ticks for word in words)
    for ends in (BREATHS, FINALS, DOTTED_BREATHS, DOTTED_FINALS):
        for ticks, words in ends.items():
            assert all(sum(beat.ticks for beat in beats_of(word)) == ticks for word in words)


@pytest.mark.parametrize("meter", METERS, ids=lambda meter: meter.text)
def test_cells_fill_the_bar(meter):
    assert sum(cells_of_bar(meter)) == 12 * meter.bar_length


def lines_in(rhythm, meter=None):
    return [line(LEVELS[2], seed=seed, rhythm=rhythm, meter=meter or Meter()) for seed in range(40)]


def heads(lines):
    return [event for made in lines for bar in made.bars for event in bar.events]


def holds(lines):
    """What there is to read in lines: names of the signs and figures of the rhythm levels."""
    events = heads(lines)
    notes = [note for made in lines for note in notes_of(made)]
    return {
        "eighths": any(event.length == Fraction(1, 2) for event in events),
        "dotted quarters": any(event.length == Fraction(3, 2) for event in events),
        "eighth rests": any(isinstance(event, Rest) and event.length < 1 for event in events),
        "syncopation": any(note.onset % 1 == Fraction(1, 2) and note.length > Fraction(1, 2) for note in notes),
        "ties": any(isinstance(event, Note) and event.tied_to_next for event in events),
        "triplets": any(event.value.tuplet for event in events),
    }


def test_each_rhythm_level_adds_what_its_name_says():
    added = [
        set(),
        {"eighths"},
        {"dotted quarters"},
        {"eighth rests"},
        {"syncopation", "ties"},
        {"triplets"},
    ]
    expected = set()
    for rhythm, more in zip(RHYTHMS, added, strict=True):
        expected |= more
        assert {name for name, there in holds(lines_in(rhythm.number)).items() if there} == expected, rhythm.name


def test_six_eight_has_ties_and_no_triplets():
    found = holds(lines_in(5, Meter(6, 8)))
    assert found["ties"]
    assert not found["triplets"]
    assert usual_rhythm(6, Meter(6, 8)).number == 5
