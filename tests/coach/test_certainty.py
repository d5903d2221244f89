"""How sure a share is."""

from statistics import NormalDist

import pytest

from game.coach.certainty import wilson_lower, wilson_upper
from game.coach.numbers import NUMBERS


def test_the_bounds_are_those_of_the_published_score_interval():
    """Newcombe 1998, method 3, quoted from memory (mem): 95 % two-sided for four proportions."""
    for right, asked, low, high in (
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ):
        assert wilson_lower(right, asked, 1.959964) == pytest.approx(low, abs=5e-5)
        assert wilson_upper(right, asked, 1.959964) == pytest.approx(high, abs=5e-5)


def test_the_confidence_of_the_table_is_eighty_per_cent_on_one_side():
    """Against the normal distribution of the standard library."""
    assert pytest.approx(NormalDist().inv_cdf(0.80), abs=1e-4) == NUMBERS.confidence_z


def test_nothing_asked_says_nothing():
    assert (wilson_lower(0, 0, 0.84), wilson_upper(0, 0, 0.84)) == (0.0, 1.0)


def test_the_bounds_are_shares_where_all_or_none_are_right():
    for asked in range(1, 400):
        for z in (0.84, 1.645, 1.959964):
            assert 0.0 <= wilson_lower(0, asked, z) < wilson_upper(0, asked, z) <= 1.0
            assert 0.0 <= wilson_lower(asked, asked, z) < wilson_upper(asked, asked, z) <= 1.0
