"""The page glides from the click to a player who is behind it, and back."""

from types import SimpleNamespace

import pytest

from game.screens.reading.page_glide import PageGlide


def take_behind(by_s):
    return SimpleNamespace(waits_s=by_s, position=lambda at_s: at_s)


def test_it_is_by_the_click_while_nobody_is_behind_and_comes_to_who_is_in_a_fifth_of_a_second():
    glide = PageGlide()
    assert glide.position(take_behind(0.0), 10.0) == 10.0
    half_way = glide.position(take_behind(1.0), 10.1)
    assert 10.1 - 1.0 < half_way < 10.1
    assert glide.position(take_behind(1.0), 10.6) == pytest.approx(9.6)


def test_a_take_that_begins_again_has_no_lag():
    glide = PageGlide()
    glide.position(take_behind(1.0), 10.0)
    assert glide.position(take_behind(1.0), 10.01) < 10.0
    glide.rest()
    assert glide.position(take_behind(0.0), 10.02) == 10.02
