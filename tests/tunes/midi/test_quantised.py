"""Played onsets to written ones."""

import random
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.tunes.midi.quantised import quantise
from tests.tunes.made_midi import jittered, midi_score, row, steps
from tests.tunes.told import warnings_told

THIRD = Fraction(1, 3)


def test_triplets_stand_in_their_beat_beside_straight_ones():
    """Eighth triplets, and a quarter with an eighth in the time of a beat."""
    score = midi_score(steps(THIRD, THIRD, THIRD, 0.5, 0.5, 2 * THIRD, THIRD, 1, first=48))
    assert row(score) == "C4:1/3 D4:1/3 E4:1/3 F4:1/2 G4:1/2 A4:2/3 B4:1/3 C4:1"
    notes = score.bars[0].notes
    assert [note.value.tuplet is not None for note in notes] == [True] * 3 + [False] * 2 + [True] * 2 + [False]
    assert (notes[0].value.tuplet.starts, notes[2].value.tuplet.stops) == (True, True)


def test_swing_at_two_to_one_is_written_as_straight_eighths_and_said():
    """Twelve pairs, long and short."""
    lengths = [2 * THIRD, THIRD] * 6 + [2]
    score = midi_score(steps(*lengths, first=48))
    assert [note.onset for note in score.bars[0].notes] == [Fraction(k, 2) for k in range(8)]
    assert score.swung is True
    assert "The eighths are swung, about 2.0 to 1: they are written straight." in warnings_told(score)


@pytest.mark.parametrize(("ratio", "swung"), [(1.0, None), (1.5, True), (1.8, True), (2.2, True), (3.0, None)])
def test_swing_is_told_from_straight_and_from_dotted_eighths(ratio, swung):
    """With a player's jitter; three to one is a dotted eighth and a sixteenth."""
    long = ratio / (1 + ratio)
    notes = steps(*[length for _ in range(16) for length in (long, 1 - long)], first=48)
    score = midi_score(jittered(notes, random.Random(3), most_ms=10))
    assert score.swung is swung
    off_beats = {note.onset % 1 for bar in score.bars for note in bar.notes} - {0}
    assert off_beats == {Fraction(3, 4) if ratio == 3 else Fraction(1, 2)}


def test_triplets_among_swung_eighths_stay_triplets():
    """Only the single off-beat is moved."""
    score = midi_score(steps(*[2 * THIRD, THIRD] * 6, THIRD, THIRD, THIRD, 1, first=48))
    assert row(score).endswith("A4:1/3 B4:1/3 C4:1/3 D4:1")
    assert score.swung is True


def test_compound_metres_are_divided_in_eighths():
    """6/8 with sixteenths: no triplets, no swing."""
    score = midi_score(steps(0.5, 0.25, 0.25, 0.5, 1, 0.5, first=48), meters=[(0, 6, 8)])
    assert row(score) == "C4:1/2 D4:1/4 E4:1/4 F4:1/2 G4:1 A4:1/2"
    assert score.swung is None


def test_notes_that_keep_to_no_beat_are_said_to_be_a_guess():
    """Played freely, without the file's click."""
    rng = random.Random(8)
    notes = steps(*[rng.uniform(0.5, 1.4) for _ in range(40)], first=48)
    assert any("do not keep to the beats" in said for said in warnings_told(midi_score(notes)))
    assert not any(
        "do not keep" in said for said in warnings_told(midi_score(jittered(steps(*[1] * 40, first=48), rng)))
    )


def test_quantising_nothing_gives_nothing():
    """No onsets, no grid."""
    assert quantise([]).onsets == ()


@given(st.lists(st.sampled_from([(0,), (0, 2), (0, 1, 2, 3), (0, 3), (2,)]), min_size=1, max_size=30))
def test_onsets_on_the_grid_of_sixteenths_stay_where_they_are(cells):
    onsets = [cell + Fraction(part, 4) for cell, parts in enumerate(cells) for part in parts]
    found = quantise([float(onset) for onset in onsets])
    assert found.onsets == tuple(onsets)
    assert (found.swing, found.free) == (None, False)


def test_the_ratio_of_swing_is_measured_and_not_looked_for_in_eighths():
    onsets = [cell + part for cell in range(12) for part in (0.0, 0.6)]
    assert quantise(onsets).swing == pytest.approx(1.5)
    assert quantise(onsets, may_swing=False).swing is None
