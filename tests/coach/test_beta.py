"""Quantiles of the Beta distribution, against scipy and against what follows by arithmetic."""

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.beta import beta_below, beta_quantile

SHAPES = st.floats(0.3, 400)


def test_one_and_one_is_even_over_all_shares():
    for share in (0.0, 0.1, 0.5, 0.93, 1.0):
        assert isclose(beta_below(share, 1, 1), share, abs_tol=1e-12)


def test_a_whole_number_of_rights_and_no_wrong_is_a_power():
    assert isclose(beta_below(0.8, 7, 1), 0.8**7, rel_tol=1e-10)


@given(SHAPES, SHAPES, st.floats(0.001, 0.999))
def test_it_is_that_of_scipy(a, b, share):
    special = pytest.importorskip("scipy.special")
    assert isclose(beta_below(share, a, b), special.betainc(a, b, share), rel_tol=1e-7, abs_tol=1e-10)


@given(SHAPES, SHAPES, st.sampled_from((0.05, 0.2, 0.5, 0.8)))
def test_the_quantile_is_the_opposite(a, b, chance):
    share = beta_quantile(chance, a, b)
    if 1e-9 < share < 1 - 1e-9:
        assert isclose(beta_below(share, a, b), chance, abs_tol=1e-5)
