"""A staff that waits, and glides on."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.screens.reading.scroll_animation import GLIDE_S, ScrollAnimation


@pytest.fixture
def gliding():
    animation = ScrollAnimation()
    animation.jump_to(100.0)
    animation.glide_to(200.0, 10.0)
    return animation


def test_it_is_there_at_once_where_it_is_put(gliding):
    gliding.jump_to(40.0)
    assert gliding.position_at(10.1) == 40.0


def test_it_glides_from_where_it_was_to_where_it_is_sent(gliding):
    assert gliding.position_at(10.0) == 100.0
    assert gliding.position_at(10.0 + GLIDE_S / 2) == pytest.approx(150.0)
    assert gliding.position_at(10.0 + GLIDE_S) == 200.0
    assert gliding.position_at(99.0) == 200.0


@given(st.lists(st.floats(0.0, GLIDE_S), min_size=2))
def test_it_never_turns_back_on_the_way(times):
    animation = ScrollAnimation()
    animation.glide_to(200.0, 0.0)
    positions = [animation.position_at(at_s) for at_s in sorted(times)]
    assert positions == sorted(positions)


def test_sent_on_while_it_glides_it_goes_on_from_there(gliding):
    half_way_s = 10.0 + GLIDE_S / 2
    gliding.glide_to(400.0, half_way_s)
    assert gliding.position_at(half_way_s) == pytest.approx(150.0)
    assert gliding.position_at(half_way_s + GLIDE_S) == 400.0


def test_sent_to_where_it_goes_already_it_does_not_begin_again(gliding):
    gliding.glide_to(200.0, 10.2)
    assert gliding.position_at(10.0 + GLIDE_S) == 200.0


def test_the_last_picture_of_a_movement_is_drawn_too(gliding):
    assert gliding.moving(10.0 + GLIDE_S)
    assert not gliding.moving(10.0 + GLIDE_S + 0.1)
    assert not ScrollAnimation().moving(10.0)
