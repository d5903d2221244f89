"""Where a misread note would have been played, told from the homes of a take."""

import pytest

from game.judging.causes.cause_numbers import CAUSE_NUMBERS
from game.judging.causes.take_map import take_map
from game.neck.neck_map import standard_map
from game.neck.tuning import TUNINGS, Place

AT_HOME, ELSEWHERE = CAUSE_NUMBERS.misread_at_home, CAUSE_NUMBERS.misread_elsewhere


@pytest.mark.parametrize("position", [1, 2, 5, 9, 12])
@pytest.mark.parametrize("tuning", ["standard", "drop-d", "dadgad"])
def test_some_homes_of_a_position_tell_those_of_all_other_pitches(position, tuning):
    neck_map = standard_map(position=position, tuning=TUNINGS[tuning])
    told = take_map(home for home in neck_map.homes if home.sounding % 2)
    for home in neck_map.homes:
        assert told.chance_at(home.sounding, home.place) == pytest.approx(AT_HOME)


def test_a_place_beside_the_home_of_its_pitch_is_seldom_meant():
    told = take_map(standard_map().homes)
    # Fret 9 of the third string sounds E4, whose home in position V is fret 5 of the second.
    assert standard_map().home_of(64).place == Place(2, 5)
    assert told.chance_at(64, Place(3, 9)) == ELSEWHERE


def test_where_several_positions_fit_the_chance_lies_between():
    home = standard_map().home_of(57)
    told = take_map([home])
    assert len(told.maps) > 1
    assert ELSEWHERE <= told.chance_at(60, Place(2, 1)) < AT_HOME


def test_without_strings_the_place_tells_nothing():
    assert take_map(standard_map().homes).chance_at(60, None) == 1


def test_without_homes_the_place_tells_nothing_either():
    assert take_map([None]).chance_at(60, Place(2, 1)) == take_map([None]).chance_at(60, Place(3, 5))


def test_one_string_over_is_a_fourth_but_for_the_third_to_the_second():
    told = take_map(standard_map().homes)
    assert [told.string_over(string, -1) for string in (6, 5, 4, 3, 2)] == [5, 5, 5, 4, 5]
    assert told.string_over(2, 1) == -4
    assert told.string_over(1, -1) is None
    assert told.string_over(6, 1) is None
