"""The form of songs."""

from random import Random

import pytest

from game.lines.form import phrases_of, song_form


@pytest.mark.parametrize(
    ("bars", "phrases"), [(2, (2,)), (3, (3,)), (4, (4,)), (5, (3, 2)), (6, (4, 2)), (8, (4, 4)), (9, (4, 3, 2))]
)
def test_phrases_have_four_bars_and_none_has_one(bars, phrases):
    assert phrases_of(bars) == phrases


@pytest.mark.parametrize("bars", [2, 3, 5, 8, 12, 31, 64])
def test_units_follow_one_another_to_the_end_and_those_alike_are_of_one_length(bars):
    for seed in range(10):
        units = song_form(bars, 1.0, Random(seed))
        assert [unit.start for unit in units] == [0, *(unit.stop for unit in units[:-1])]
        assert units[-1].stop == bars
        assert [unit.ends_song for unit in units] == [False] * (len(units) - 1) + [True]
        assert len({(unit.letter, unit.bars) for unit in units}) == len({unit.letter for unit in units})


def test_in_most_songs_something_comes_back_and_in_more_where_that_is_asked():
    def returning(returns):
        forms = [song_form(8, returns, Random(seed)) for seed in range(200)]
        return sum(len({unit.letter for unit in form}) < len(form) for form in forms)

    assert 120 < returning(1.0) < 180 < returning(8.0)
