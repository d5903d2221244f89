"""What movements cost, beside each other: the order is trade, the figures are ours."""

from dataclasses import astuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.neck.hand import FrettingHand
from game.neck.movement_costs import COSTS, Fingered, fingered, is_jump, note_cost, step_cost
from game.neck.tuning import Place

PLACES = st.builds(Place, st.integers(1, 6), st.integers(0, 22))
HANDS = st.builds(FrettingHand, span=st.integers(1, 6), back=st.integers(0, 2), on=st.integers(0, 2))


def in_v(string, fret):
    return fingered(Place(string, fret), 5)


def test_a_finger_lies_on_each_fret_and_the_outer_ones_reach_beyond():
    assert [in_v(1, fret).finger for fret in (0, 4, 5, 6, 7, 8, 9)] == [0, 1, 1, 2, 3, 4, 4]
    assert [in_v(1, fret).stretch for fret in (0, 4, 5, 8, 9)] == [0, -1, 0, 0, 1]


def test_a_stretch_costs_and_reaching_back_less_than_reaching_on():
    assert 0 == note_cost(in_v(1, 5)) < note_cost(in_v(1, 4)) < note_cost(in_v(1, 9))


@pytest.mark.parametrize(
    ("less", "more"),
    [
        ((in_v(2, 5), in_v(2, 7)), (in_v(2, 5), in_v(1, 7))),
        ((in_v(2, 5), in_v(1, 7)), (in_v(3, 5), in_v(1, 7))),
        ((in_v(2, 5), in_v(1, 7)), (in_v(2, 5), in_v(1, 5))),
        ((in_v(2, 5), in_v(1, 5)), (in_v(2, 4), in_v(1, 5))),
        ((in_v(2, 4), in_v(2, 5)), (in_v(2, 4), in_v(1, 5))),
        ((in_v(2, 4), in_v(1, 5)), (in_v(2, 5), fingered(Place(2, 9), 6))),
        ((in_v(2, 5), fingered(Place(2, 9), 6)), (in_v(2, 5), fingered(Place(2, 12), 9))),
        ((in_v(2, 0), fingered(Place(2, 12), 9)), (in_v(2, 5), fingered(Place(2, 12), 9))),
    ],
)
def test_what_is_harder_costs_more(less, more):
    """A string crossed, one passed over, a finger rolled, one that jumps, a shift, a longer one, none over an open
    string (trade).
    """
    assert step_cost(*less) < step_cost(*more)


def test_the_same_finger_elsewhere_is_told_from_a_note_repeated_and_from_a_shift():
    assert is_jump(in_v(2, 5), in_v(1, 5))
    assert not is_jump(in_v(2, 5), in_v(2, 5))
    assert not is_jump(in_v(2, 5), fingered(Place(2, 7), 7))
    assert not is_jump(in_v(2, 0), in_v(1, 0))


def test_a_note_without_a_home_costs_more_than_an_outlying_one_twelve_frets_away():
    there = step_cost(in_v(2, 5), fingered(Place(2, 17), 17))
    assert 2 * there + COSTS.outlying <= COSTS.off_map


def test_every_figure_is_a_multiple_of_a_quarter_so_that_sums_are_exact():
    assert all(figure * 4 == int(figure * 4) and figure > 0 for figure in astuple(COSTS))


@given(PLACES, PLACES, st.integers(1, 19), st.integers(1, 19), HANDS)
def test_a_step_costs_the_same_both_ways_and_nothing_to_the_same_note(one, other, here, there, hand):
    first, second = fingered(one, here, hand), fingered(other, there, hand)
    assert step_cost(first, second) == step_cost(second, first) >= 0
    assert step_cost(first, first) == 0


@given(PLACES, st.integers(1, 19), HANDS)
def test_a_finger_is_one_of_the_hand_and_its_stretch_leads_to_the_fret(place, position, hand):
    one = fingered(place, position, hand)
    if place.fret:
        assert 1 <= one.finger <= hand.span
        assert one.position + one.finger - 1 + one.stretch == place.fret
    else:
        assert one == Fingered(place, position, 0)
