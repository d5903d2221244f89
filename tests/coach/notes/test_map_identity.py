"""A map is told from another by a text of its homes."""

from game.coach.notes.map_identity import LONGEST_MAP_TEXT, homes_apart, map_key
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


def test_a_joined_map_is_the_same_as_one_whose_homes_were_chosen_one_by_one():
    joined = MAPS[-1]
    by_hand = standard_map(choices=joined.places)
    assert map_key(joined) == map_key(by_hand)


def test_a_home_chosen_where_it_lies_anyway_makes_no_other_map():
    assert map_key(standard_map(choices={60: Place(3, 5)})) == map_key(standard_map())


def test_each_map_has_a_text_of_its_own():
    assert len({map_key(one) for one in MAPS}) == len(MAPS)


def test_the_text_of_the_widest_map_is_within_its_bound():
    wide = standard_map(tuning=TUNINGS["eight-string"], frets=30)
    moved = {
        one.sounding: places[-1]
        for one in standard_map(tuning=wide.tuning, frets=30, position=20).homes
        if (places := wide.tuning.places_of(one.sounding, 30))
    }
    everywhere = {sounding: wide.tuning.places_of(sounding, 30)[-1] for sounding in range(30, 94)}
    assert len(map_key(standard_map(tuning=wide.tuning, frets=30, choices=everywhere | moved))) < LONGEST_MAP_TEXT


def test_maps_of_one_name_are_as_far_apart_as_homes_differ_and_others_cannot_be_compared():
    plain, moved = map_key(standard_map()), map_key(MAPS[3])
    assert homes_apart(plain, plain) == 0
    assert homes_apart(plain, moved) == homes_apart(moved, plain) == 2
    assert homes_apart(plain, map_key(standard_map(position=7))) is None
