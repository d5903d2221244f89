"""Where a tune ranges, and the shape of its phrases."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.lines.contour import heights_of, range_of
from game.lines.levels import LEVELS, level_of
from game.lines.scale import key_named, scale_of
from tests.lines.making import MAP

F = scale_of(key_named("F"), MAP)
EVEN = [1.0] * len(F.pitches)


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.name)
def test_a_range_is_as_wide_as_its_level_and_lies_in_the_scale(level):
    for seed in range(20):
        low, high = range_of(level, F, EVEN, Random(seed))
        assert 0 <= low <= high < len(F.pitches)
        assert high - low + 1 == min(level.span or len(F.pitches), len(F.pitches))


def test_every_range_holds_the_key_note():
    for seed in range(40):
        low, high = range_of(level_of(1), F, EVEN, Random(seed))
        assert "F" in {pitch.step for pitch in F.pitches[low : high + 1]}


def test_notes_of_more_weight_draw_the_range_to_them():
    heavy = [50.0 if index < 3 else 1.0 for index in range(len(F.pitches))]
    lows = [range_of(level_of(1), F, heavy, Random(seed))[0] for seed in range(40)]
    assert sum(low < 3 for low in lows) >= 36


@given(st.lists(st.integers(2, 4), min_size=1, max_size=6), st.integers(0, 1000))
def test_there_is_a_height_for_each_bar_and_the_last_bar_is_not_high(phrases, seed):
    heights = heights_of(phrases, Random(seed))
    assert len(heights) == sum(phrases)
    assert all(0 <= height <= 1 for height in heights)
    assert heights[-1] <= 0.5


@given(st.integers(0, 1000))
def test_one_phrase_has_the_summit(seed):
    """The others keep to 0.65 of the height of their shape, 0.95 at most."""
    heights = heights_of((4, 4, 4), Random(seed))
    tops = [max(heights[start : start + 4]) for start in (0, 4, 8)]
    assert sum(top > 0.62 for top in tops) == 1


def test_a_range_with_a_note_of_no_weight_does_not_come_while_there_is_another():
    met = [float(pitch.step in "CDEFG" and pitch.octave == 5) for pitch in scale_of(key_named("C"), MAP).pitches]
    in_c = scale_of(key_named("C"), MAP)
    for seed in range(20):
        low, high = range_of(level_of(1), in_c, met, Random(seed))
        assert [pitch.name for pitch in in_c.pitches[low : high + 1]] == ["C5", "D5", "E5", "F5", "G5"]
    low, high = range_of(level_of(2), in_c, met, Random(1))
    assert high - low + 1 == 8, "where none is whole, a range all the same"
