"""A map is told from another by a text of its homes, and made from it again."""

import pytest

from game.coach.notes.map_identity import homes_apart, map_key, map_of_key
from game.music.score import Reading
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import TUNINGS, Place

MAPS = (
    standard_map(),
    standard_map(position=9, reading=Reading.CONCERT),
    standard_map(position=1, tuning=TUNINGS["dadgad"]),
    standard_map(choices={64: Place(3, 9), 79: Place(1, 15)}),
    standard_map(second=SecondRegion(position=9, seam=66)),
)


@pytest.mark.parametrize("neck_map", MAPS)
def test_a_map_is_made_again_from_its_text_with_the_same_homes(neck_map):
    again = map_of_key(map_key(neck_map))
    assert again is not None
    assert again.places == neck_map.places
    assert (again.position, again.tuning.open_strings, again.reading) == (
        neck_map.position,
        neck_map.tuning.open_strings,
        neck_map.reading,
    )
    assert map_key(again) == map_key(neck_map)


def test_a_joined_map_is_the_same_as_one_whose_homes_were_chosen_one_by_one():
    joined = MAPS[-1]
    by_hand = standard_map(choices=joined.places)
    assert map_key(joined) == map_key(by_hand)


def test_a_home_chosen_where_it_lies_anyway_makes_no_other_map():
    assert map_key(standard_map(choices={60: Place(3, 5)})) == map_key(standard_map())


def test_maps_of_one_name_are_as_far_apart_as_homes_differ_and_others_cannot_be_compared():
    plain, moved = map_key(standard_map()), map_key(MAPS[3])
    assert homes_apart(plain, plain) == 0
    assert homes_apart(plain, moved) == homes_apart(moved, plain) == 2
    assert homes_apart(plain, map_key(standard_map(position=7))) is None


@pytest.mark.parametrize("text", ["", "V", "XL, 64 59, guitar", "V, x, guitar", "V, 64 59 55 50 45 40, sideways"])
def test_a_text_that_is_no_maps_gives_none(text):
    assert map_of_key(text) is None


def test_a_map_is_not_made_on_a_neck_that_is_too_short_for_it():
    assert map_of_key(map_key(standard_map(position=17)), frets=12) is None
