"""What a hand reaches, and the maps of other hands than the usual one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.errors import MapError
from game.music.pitch import pitch
from game.neck.hand import UNSTRETCHED, FrettingHand
from game.neck.neck_map import Reach, SecondRegion, standard_map
from game.neck.tuning import TUNINGS, Place
from tests.refusing import refusal

HANDS = st.builds(FrettingHand, span=st.integers(1, 6), back=st.integers(0, 2), on=st.integers(0, 2))


def test_without_stretches_position_v_has_its_24_pitches():
    """Frets 5 to 8 (trade, calculated)."""
    neck_map = standard_map(hand=UNSTRETCHED)
    assert len(neck_map.homes) == 24
    assert {home.reach for home in neck_map.homes} == {Reach.IN_POSITION}


def test_with_open_strings_an_open_string_comes_before_a_stretch():
    """The open B is B3 (MIDI 59), which in position V is a stretch otherwise (calculated)."""
    neck_map = standard_map(hand=FrettingHand(open_strings=True))
    assert neck_map.home_of(pitch("B3").midi).place == Place(2, 0)
    assert neck_map.home_of(pitch("E2").midi).place == Place(6, 0)
    assert neck_map.home_of(pitch("A2").midi).place == Place(6, 5)


def test_an_open_string_moves_no_hand():
    assert FrettingHand().shifted_to(0, 5) == 5


@given(HANDS, st.integers(1, 15), st.integers(1, 22))
def test_where_the_hand_shifts_to_a_fret_it_lies_under_the_fingers_and_no_nearer_position_has_it(hand, position, fret):
    shifted = hand.shifted_to(fret, position)
    assert fret in hand.under_fingers(shifted)
    nearer = range(max(1, position - abs(shifted - position) + 1), position + abs(shifted - position))
    assert not any(fret in hand.under_fingers(one) for one in nearer)


@pytest.mark.parametrize("hand", [FrettingHand(span=0), FrettingHand(span=7), FrettingHand(back=-1, on=3)])
def test_a_hand_that_reaches_nothing_or_too_much_is_refused_with_each_fault(hand):
    assert len(hand.faults) in (1, 2)
    with refusal(MapError):
        standard_map(hand=hand)


@given(HANDS, st.sampled_from(list(TUNINGS.values())), st.integers(1, 16))
def test_every_home_of_every_hand_sounds_its_pitch_and_lies_within_its_reach(hand, tuning, position):
    for home in standard_map(position=position, tuning=tuning, hand=hand).homes:
        assert tuning.sounding(home.place) == home.sounding
        fret = home.place.fret
        assert hand.lowest_fret(position) <= fret <= hand.highest_fret(position) or (fret == 0 and position == 1)


def test_two_regions_are_joined_at_a_seam_and_each_pitch_has_one_home():
    """Position IX holds C#5 to F5 on string 1 (calculated): from E4 on the hand is there, below it in V."""
    seam = pitch("E4").midi
    joined = standard_map(second=SecondRegion(position=9, seam=seam))
    assert joined.home_of(pitch("D#4").midi).place.fret in range(4, 10)
    assert joined.home_of(seam).place == Place(3, 9)
    assert joined.home_of(pitch("E5").midi).place == Place(1, 12)
    assert len({home.sounding for home in joined.homes}) == len(joined.homes)
    assert (joined.homes[0].sounding, joined.homes[-1].sounding) == (pitch("Ab2").midi, pitch("F5").midi)


def test_a_lower_region_is_joined_below_the_seam():
    joined = standard_map(second=SecondRegion(position=1, seam=pitch("A2").midi))
    assert joined.home_of(pitch("E2").midi).place == Place(6, 0)
    assert joined.home_of(pitch("A2").midi).place == Place(6, 5)


def test_the_hand_takes_each_home_from_the_position_of_its_region():
    joined = standard_map(second=SecondRegion(position=9, seam=pitch("E4").midi))
    assert joined.hand_position(Place(6, 5)) == 5
    assert joined.hand_position(Place(1, 12)) == 9
    assert joined.hand_position(Place(1, 15)) == 12


@given(st.integers(1, 16), st.integers(1, 16), st.integers(40, 84), st.sampled_from(list(TUNINGS.values())))
def test_a_joined_map_has_every_pitch_of_both_its_regions(first, other, seam, tuning):
    alone = [standard_map(position=position, tuning=tuning) for position in (first, other)]
    joined = standard_map(position=first, tuning=tuning, second=SecondRegion(position=other, seam=seam))
    assert set(joined.places) == set(alone[0].places) | set(alone[1].places)


def test_a_second_region_off_the_neck_is_refused():
    with refusal(MapError):
        standard_map(second=SecondRegion(position=20, seam=64))
