"""Rows of single notes: no melody, each note as often as it is wanted."""

from collections import Counter
from itertools import pairwise
from random import Random

import pytest

from game.errors import TuneError
from game.lines.single_notes import single_notes
from game.music.keys import Key
from game.music.score import Reading
from game.music.written import written_notes
from game.neck.neck_map import standard_map
from tests.refusing import refusal

MAP = standard_map()


def sounds(row):
    return [note.sounding for note in written_notes(row.bars, row.reading)]


def row(bars=16, seed=1, key=0, neck_map=MAP, **changes):
    return single_notes(neck_map, key=Key(key), bars=bars, rng=Random(seed), **changes)


def test_a_row_is_quarter_notes_of_the_map_in_full_bars():
    made = row(bars=8)
    assert len(made.bars) == 8
    assert all([event.onset for event in bar.events] == [0, 1, 2, 3] for bar in made.bars)
    assert set(sounds(made)) <= set(MAP.places)


def test_no_note_is_struck_twice_in_a_row_for_then_nothing_is_looked_for():
    heard = sounds(row(weights={53: 100.0, 55: 1.0, 57: 1.0}))
    assert all(one != other for one, other in pairwise(heard))


def test_notes_come_in_proportion_to_their_weights_and_not_at_all_without_one():
    heard = Counter(sounds(row(bars=64, weights={53: 1.0, 55: 1.0, 57: 1.0, 59: 1.0, 60: 3.0, 62: 0.0})))
    assert set(heard) == {53, 55, 57, 59, 60}
    # A reversible Markov chain: shares are as weight times the weight of all others, 3*4 beside four times 1*6.
    assert heard[60] / 256 == pytest.approx(12 / 36, abs=0.05)


def test_without_weights_all_notes_of_the_map_come_alike():
    heard = Counter(sounds(row(bars=64)) + sounds(row(bars=64, seed=2)))
    assert set(heard) == set(MAP.places)


def test_the_same_seed_makes_the_same_row_and_another_another():
    assert row() == row()
    assert row() != row(seed=2)


def test_a_row_is_spelled_as_its_key_spells_it():
    flats, sharps = row(key=-3, weights={58: 1.0, 53: 1.0, 57: 1.0}), row(key=3, weights={54: 1.0, 61: 1.0, 57: 1.0})
    assert {event.pitch.name for bar in flats.bars for event in bar.events} == {"Bb4", "F4", "A4"}
    assert {event.pitch.name for bar in sharps.bars for event in bar.events} == {"F#4", "C#5", "A4"}


def test_a_row_for_concert_pitch_sounds_as_written():
    concert = standard_map(reading=Reading.CONCERT)
    made = row(neck_map=concert)
    assert made.reading is Reading.CONCERT
    assert set(sounds(made)) <= set(concert.places)


@pytest.mark.parametrize("bars", [1, 65])
def test_a_length_that_cannot_be_is_refused(bars):
    with refusal(TuneError, "choose 2 to 64"):
        row(bars=bars)


def test_fewer_than_three_notes_are_no_row():
    with refusal(TuneError, "3 notes of the map or more, and 2 were asked for"):
        row(weights={53: 1.0, 55: 2.0, 200: 5.0})
