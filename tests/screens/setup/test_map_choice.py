"""What is looked at on the map. Places of standard tuning were counted on a neck: B3 lies on five strings."""

import pytest

from game.neck.hand import UNSTRETCHED
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import Place
from game.screens.setup.map_choice import (
    LookedAt,
    frets_in_sight,
    look_at_pitch,
    look_at_place,
    next_other,
    next_pitch,
    other_places,
    out_of_sight,
)

B = 59
MAP = standard_map()


def test_the_other_places_of_a_pitch_are_all_there_are_the_nearest_first():
    assert other_places(MAP, B) == (Place(4, 9), Place(2, 0), Place(5, 14), Place(6, 19))


def test_what_is_no_home_is_shown_as_a_place_that_could_be_one():
    assert look_at_place(MAP, Place(2, 0)) == LookedAt(B, Place(2, 0))
    assert look_at_place(MAP, Place(6, 0)) == LookedAt(40, Place(6, 0))


def test_a_home_is_shown_as_its_note_and_none_of_its_other_places_is_picked():
    assert look_at_place(MAP, Place(3, 4)) == look_at_pitch(B) == LookedAt(B)


def test_a_pitch_that_is_on_no_string_has_no_place_to_pick():
    assert other_places(MAP, 20) == ()
    assert next_other(MAP, LookedAt(20)) == LookedAt(20)


def test_what_lies_beside_the_part_of_the_neck_in_sight_is_told_and_the_whole_neck_shows_it():
    assert out_of_sight(MAP, LookedAt(B)) == (Place(2, 0), Place(5, 14), Place(6, 19))
    assert out_of_sight(MAP, LookedAt(B, Place(5, 14))) == (Place(2, 0), Place(6, 19))
    assert out_of_sight(MAP, LookedAt(B), more=True) == ()
    assert out_of_sight(MAP, None) == ()


def test_a_hand_without_stretches_and_two_regions_are_in_sight_and_no_more():
    assert frets_in_sight(standard_map(hand=UNSTRETCHED), None) == (4, 8)
    assert frets_in_sight(standard_map(second=SecondRegion(position=9, seam=64)), None) == (3, 13)


def test_the_other_places_come_round_with_none_of_them_between():
    looked = LookedAt(B)
    seen = []
    for _ in range(5):
        looked = next_other(MAP, looked)
        seen.append(looked.other)
    assert seen == [*other_places(MAP, B), None]


def test_where_a_pitch_has_no_home_one_of_its_places_is_always_shown():
    looked = LookedAt(40, Place(6, 0))
    assert next_other(MAP, looked) == looked


def test_pitches_go_up_and_down_and_round_the_ends():
    pitches = [home.sounding for home in MAP.homes]
    assert next_pitch(MAP, None, 1).sounding == pitches[0]
    assert next_pitch(MAP, None, -1).sounding == pitches[-1]
    assert next_pitch(MAP, LookedAt(pitches[-1]), 1).sounding == pitches[0]
    assert next_pitch(MAP, LookedAt(40, Place(6, 0)), 1).sounding == pitches[0]
    assert next_pitch(MAP, LookedAt(B), -1).sounding == 58


@pytest.mark.parametrize("position", range(1, 20))
@pytest.mark.parametrize("more", [False, True])
def test_all_homes_and_what_is_looked_at_are_in_sight_wherever_the_hand_is(position, more):
    neck_map = standard_map(position=position)
    for other in (None, Place(6, 0), Place(1, 22)):
        first, last = frets_in_sight(neck_map, LookedAt(B, other), more=more)
        frets = [home.place.fret for home in neck_map.homes] + ([other.fret] if other else [])
        assert first == 0 or first < min(frets)
        assert max(frets) <= last <= neck_map.frets
        assert last - first >= (10 if more else 5)


def test_the_usual_neck_shows_what_the_hand_reaches_and_no_more():
    assert frets_in_sight(MAP, None) == (3, 9)
    assert frets_in_sight(standard_map(position=1), None) == (0, 5)
