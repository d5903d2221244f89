"""Rhythm levels, phrases, and how rhythms are written."""

from fractions import Fraction
from random import Random

import pytest

from game.lines.levels import LEVELS
from game.lines.notating import pieces_of
from game.lines.phrasing import letters_of, phrases_of
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


@pytest.mark.parametrize(
    ("bars", "phrases"),
    [
        (2, (2,)),
        (3, (3,)),
        (4, (4,)),
        (5, (3, 2)),
        (6, (4, 2)),
        (7, (4, 3)),
        (8, (4, 4)),
        (9, (4, 3, 2)),
        (12, (4, 4, 4)),
    ],
)
def test_phrases_have_four_bars_and_none_has_one(bars, phrases):
    assert phrases_of(bars) == phrases


def test_bars_of_a_phrase_share_their_rhythm_and_the_last_is_the_cadence():
    for seed in range(30):
        letters = letters_of((4, 4), Random(seed))
        assert letters[3] == "."
        assert letters[7] == "!"
        assert len({*letters[:3], *letters[4:7]}) < 6


# Where a note crosses what a page should show, and how it is then written, in ticks of a twelfth of a quarter note
# (engraving handbooks, trade): the middle of a 4/4 bar, the dotted beats of 6/8.
@pytest.mark.parametrize(
    ("meter", "start", "stop", "written"),
    [
        ((4, 4), 0, 48, [48]),
        ((4, 4), 12, 36, [24]),
        ((4, 4), 6, 18, [12]),
        ((4, 4), 18, 30, [6, 6]),
        ((4, 4), 18, 36, [6, 12]),
        ((4, 4), 12, 30, [12, 6]),
        ((4, 4), 0, 18, [18]),
        ((4, 4), 6, 24, [18]),
        ((4, 4), 42, 48, [6]),
        ((4, 4), 30, 48, [18]),
        ((4, 4), 0, 30, [24, 6]),
        ((3, 4), 0, 36, [36]),
        ((3, 4), 12, 36, [24]),
        ((3, 4), 6, 30, [6, 18]),
        ((2, 2), 12, 36, [24]),
        ((6, 8), 0, 36, [36]),
        ((6, 8), 12, 36, [6, 18]),
        ((6, 8), 12, 24, [6, 6]),
        ((6, 8), 6, 18, [12]),
        ((9, 8), 18, 54, [36]),
        ((12, 8), 0, 72, [72]),
    ],
)
def test_notes_are_tied_where_they_would_hide_a_beat(meter, start, stop, written):
    pieces = pieces_of(start, stop, Meter(*meter))
    assert [ticks for _, ticks in pieces] == written
    assert [at for at, _ in pieces] == [start + sum(written[:index]) for index in range(len(written))]
