"""A second region: which position, which seam, and what of it changes."""

import pytest

from game.errors import MapError
from game.neck.joined_maps import best_seam
from game.neck.melody_counts import melody_counts
from game.neck.neck_map import SecondRegion, standard_map
from game.screens.setup.map_joining import begin_joining
from tests.sampling import sample

COUNTS = melody_counts([[57, 60, 64, 69, 72, 76, 72, 69, 64, 60, 57]])
FIVE = standard_map()


def test_the_region_where_the_hand_ends_is_proposed_first_and_below_at_the_end_of_the_neck():
    assert begin_joining(FIVE, COUNTS).position == 9
    assert begin_joining(standard_map(position=18), COUNTS).position == 14


def test_a_map_that_is_joined_already_is_looked_at_as_it_is():
    joined = standard_map(second=SecondRegion(position=9, seam=66))
    joining = begin_joining(joined, COUNTS)
    assert joining.neck_map == joined
    assert joining.alone == FIVE


def test_positions_go_round_without_that_of_the_map():
    joining, seen, compared = begin_joining(FIVE, COUNTS), [], sample(range(1, 20), by_default=4)
    for _ in range(18):
        joining = joining.to_position(1)
        seen.append(joining.position)
        assert joining.as_proposed
        if joining.position in compared:
            assert joining.joined == best_seam(FIVE, joining.position, COUNTS)
    assert sorted(seen) == [one for one in range(1, 20) if one != 5]


def test_the_seam_goes_by_semitones_and_stays_between_the_ends():
    joining = begin_joining(FIVE, COUNTS)
    higher = joining.to_seam(1)
    assert higher.seam == joining.seam + 1
    assert higher.to_seam(-1).joined == joining.joined
    for _ in range(80):
        joining = joining.to_seam(-1)
    assert joining.seam == FIVE.homes[0].sounding + 1


def test_a_neck_with_one_position_has_no_second_region():
    with pytest.raises(MapError):
        begin_joining(standard_map(position=1, frets=4), COUNTS)
