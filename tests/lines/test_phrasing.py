"""Phrases and their rhythm."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.lines.levels import LEVELS
from game.lines.phrasing import letters_of, phrases_of, solo_rhythm, tune_rhythm
from game.lines.rhythms import CHANGES_METERS, METERS, RHYTHMS, cells_of_bar, usual_rhythm
from game.music.meter import Meter


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


@given(st.integers(2, 64))
def test_phrases_are_as_long_as_the_line(bars):
    assert sum(phrases_of(bars)) == bars
    assert set(phrases_of(bars)) <= {2, 3, 4}


def spots_of(cells):
    return [spot for cell in cells for spot in cell.spots]


@given(st.integers(0, 1000), st.sampled_from(METERS), st.sampled_from(RHYTHMS), st.integers(2, 9))
def test_the_rhythm_of_a_tune_fills_its_bars_without_a_gap_and_begins_and_ends_with_a_note(seed, meter, rhythm, bars):
    """In every metre and rhythm that go together, early notes included."""
    rng = Random(seed)
    letters = letters_of(phrases_of(bars), rng)
    cells = tune_rhythm(usual_rhythm(rhythm.number, meter), 2.0, meter, letters, rng)
    spots = spots_of(cells)
    assert [cell.bar for cell in cells] == list(range(bars))
    assert [spot.onset for spot in spots] == [0, *(spot.onset + spot.ticks for spot in spots[:-1])]
    assert spots[-1].onset + spots[-1].ticks == bars * sum(cells_of_bar(meter))
    assert not spots[0].rest


@given(st.integers(0, 1000), st.sampled_from(CHANGES_METERS), st.sampled_from(LEVELS[5:]), st.integers(2, 9))
def test_the_rhythm_of_a_solo_fills_its_bars_without_a_gap_and_begins_with_a_note(seed, meter, level, bars):
    cells = solo_rhythm(RHYTHMS[level.rhythm - 1], level.flow, meter, phrases_of(bars), Random(seed))
    spots = spots_of(cells)
    assert [spot.onset for spot in spots] == [0, *(spot.onset + spot.ticks for spot in spots[:-1])]
    assert spots[-1].onset + spots[-1].ticks == bars * sum(cells_of_bar(meter))
    assert not spots[0].rest
    assert all(spot.ticks > 0 for spot in spots)


def test_bars_with_the_same_letter_have_the_same_rhythm():
    cells = tune_rhythm(RHYTHMS[2], 1.0, Meter(), ("a0", "a0", "b2", "!"), Random(1))
    ticks = [[spot.ticks for spot in cell.spots] for cell in cells]
    assert ticks[0] == ticks[1]


def test_a_cell_tells_its_struck_notes_and_whether_it_begins_silent():
    cells = tune_rhythm(RHYTHMS[3], 1.0, Meter(), ("a0", "b1", "c2", "!"), Random(11))
    for cell in cells:
        assert cell.struck == tuple(spot for spot in cell.spots if not spot.rest)
        assert cell.begins_with_rest == cell.spots[0].rest
