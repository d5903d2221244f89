"""Rhythm levels, and which cells are within each."""

from fractions import Fraction

import pytest

from game.lines.levels import LEVELS
from game.lines.rhythms import METERS, cells_of_bar, leaves_off_beat, level_of_cell, usual_rhythm
from game.music.meter import Meter
from game.music.score import Note, Rest
from tests.lines.making import line, notes_of


@pytest.mark.parametrize("meter", METERS, ids=lambda meter: meter.text)
def test_cells_fill_the_bar(meter):
    assert sum(cells_of_bar(meter)) == 12 * meter.bar_length


@pytest.mark.parametrize(
    ("cell", "ticks", "level"),
    [
        ((0, 12), 24, 1), ((), 24, 1), ((12,), 24, 1), ((0, 12, 24), 36, 1), ((0, 6, 12), 18, 1),
        ((0, 6, 12), 24, 2), ((0, 12, 18), 24, 2), ((0, 12), 18, 2), ((0, 18, 24, 30), 36, 3), ((0, 18), 24, 3),
        ((6, 12), 24, 4), ((0, 6), 24, 4), ((0, 6, 18), 24, 4), ((12,), 18, 4), ((0, 6), 18, 5),
        ((0, 4, 8, 12), 24, 6), ((4, 8, 12), 24, 6), ((0, 8, 12), 24, 7), ((0, 3, 6, 9), 24, 7),
    ],
)  # fmt: skip
def test_a_cell_is_of_the_first_level_that_holds_what_it_holds(cell, ticks, level):
    assert level_of_cell(cell, ticks) == level


def test_a_cell_may_end_on_an_eighth_that_leads_on():
    assert leaves_off_beat((0, 18), 24)
    assert not leaves_off_beat((0, 12), 24)
    assert not leaves_off_beat((0, 6, 12), 18), "the third eighth of a dotted beat"


def lines_in(rhythm, meter=None):
    return [line(LEVELS[2], seed=seed, rhythm=rhythm, meter=meter or Meter()) for seed in range(9)]


def holds(lines):
    """What there is to read in lines: names of the signs and figures of the rhythm levels."""
    events = [event for made in lines for bar in made.bars for event in bar.events]
    notes = [(note, made.bars[0]) for made in lines for note in notes_of(made)]
    off_beat = [
        note for note, first in notes
        if (note.onset - (first.length if first.pickup else 0)) % 1 == Fraction(1, 2) and note.length > Fraction(1, 2)
    ]  # fmt: skip
    return {
        "eighths": any(event.length == Fraction(1, 2) for event in events),
        "dotted quarters": any(event.length == Fraction(3, 2) for event in events),
        "eighth rests": any(isinstance(event, Rest) and event.length < 1 for event in events),
        "syncopation": bool(off_beat),
        "triplets": any(event.value.tuplet for event in events),
    }


def test_each_rhythm_level_adds_what_its_name_says():
    added = [set(), {"eighths"}, {"dotted quarters"}, {"eighth rests"}, {"syncopation"}, {"triplets"}]
    expected = set()
    for number, more in enumerate(added, start=1):
        expected |= more
        assert {name for name, there in holds(lines_in(number)).items() if there} == expected, number


def test_six_eight_has_ties_and_no_triplets():
    lines = lines_in(5, Meter(6, 8))
    assert any(isinstance(e, Note) and e.tied_to_next for made in lines for bar in made.bars for e in bar.events)
    assert not holds(lines)["triplets"]
    assert usual_rhythm(6, Meter(6, 8)).number == 5
