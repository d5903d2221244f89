"""Where the hand is in a melody that is read on a map, and where it shifts."""

from itertools import pairwise, product
from random import Random

import pytest

from game.neck.hand import UNSTRETCHED, USUAL_HAND, FrettingHand
from game.neck.movement_costs import COSTS, fingered, note_cost, step_cost
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.position_shifts import PositionShift, positions_in
from game.neck.tuning import TUNINGS, Place
from tests.sampling import how_many

MAP = standard_map()


def shifts(soundings, neck_map=MAP):
    found = positions_in(soundings, neck_map)
    return found.first, [(shift.index, shift.position) for shift in found.shifts]


def test_a_melody_whose_notes_lie_in_the_position_has_no_shift():
    """Every pitch of a region, stretches and open strings included, in any order: the hand stays (trade)."""
    for neck_map in (MAP, standard_map(position=1), standard_map(position=7, hand=FrettingHand(open_strings=True))):
        rng = Random(5)
        tune = [rng.choice(neck_map.homes).sounding for _ in range(200)]
        found = positions_in(tune, neck_map)
        assert (found.first, found.shifts) == (neck_map.position, ())
        assert found.places == tuple(neck_map.places[sounding] for sounding in tune)


def test_for_one_low_note_below_the_map_the_hand_goes_down_and_comes_back():
    """F2 is the first fret of the sixth string and nothing else (calc)."""
    assert shifts([57, 60, 41, 64, 62]) == (5, [(2, 1), (3, 5)])
    assert positions_in([57, 60, 41, 64, 62], MAP).places[2] == Place(6, 1)


def test_an_open_string_makes_no_shift():
    """The low E has no home in position V, and only the open string has it."""
    assert shifts([57, 40, 60, 40]) == (5, [])
    assert positions_in([57, 40, 60], MAP).places[1] == Place(6, 0)
    assert shifts([40, 40]) == (None, [])


def test_a_phrase_above_the_map_is_played_where_its_notes_lie_together():
    """D5 to G5 on the first string, frets 10 to 15 (calc): one shift there, one back."""
    first, (there, back) = shifts([69, 72, 76, 77, 79, 77, 76, 69, 65, 60])
    assert (first, there, back) == (5, (2, 12), (7, 5))


def test_a_tune_that_goes_to_and_fro_between_two_positions_stays_where_both_are_reached():
    """A5 and D6 written, frets 5 and 10 of the first string, again and again: from VI both are reached by a stretch."""
    assert shifts([69, 74] * 12) == (6, [])
    first, found = shifts([57, 60, 62, 64, *[69, 74] * 12, 57, 60, 62, 64])
    assert (first, found) == (5, [(5, 6), (28, 5)])


def test_the_hand_does_not_come_back_for_a_note_that_it_reaches():
    """One home (fret 8 of the first string) between two high notes."""
    assert len(shifts([69, 74, 72, 74, 69, 64])[1]) == 2


def test_at_the_seam_of_a_joined_map_the_hand_shifts():
    joined = standard_map(second=SecondRegion(position=9, seam=66))
    up = [57, 60, 62, 64, 66, 68, 69, 71, 73]
    assert shifts(up + up[::-1], joined) == (5, [(4, 9), (14, 5)])


def test_an_outlying_home_is_where_the_hand_goes():
    """The player moved C4 to the sixth string, fret 20: nobody looks for another place then."""
    outlying = MAP.with_choice(Place(6, 20))
    first, (there, back) = shifts([57, 62, 60, 62, 57], outlying)
    assert (first, there[0], back) == (5, 2, (3, 5))
    assert 17 <= there[1] <= 20


def test_a_melody_may_begin_elsewhere_and_stay_there():
    assert shifts([41, 57, 60, 64]) == (1, [(1, 5)])
    first, found = shifts([76, 77, 79, 81])
    assert first > 9
    assert found == []


def test_positions_are_counted_from_the_capo_as_all_frets_are():
    """A neck with a capo at the third fret is one of nineteen frets: the page is read, and frets counted, from it."""
    assert shifts([57, 60, 41, 64], standard_map(frets=19)) == shifts([57, 60, 41, 64])


def test_notes_that_the_instrument_does_not_have_move_nothing():
    found = positions_in([57, 20, 60, 120], MAP)
    assert found.places[1] is found.places[3] is None
    assert found.shifts == ()
    assert positions_in([20], MAP).first is None


def test_no_notes_are_no_positions():
    assert positions_in([], MAP).shifts == ()


@pytest.mark.parametrize("neck_map", [standard_map(tuning=TUNINGS["bass"]), standard_map(hand=UNSTRETCHED)])
def test_a_bass_and_a_hand_without_stretches_shift_as_well(neck_map):
    lowest = neck_map.homes[0].sounding
    at_home = [lowest + 7, lowest + 5, lowest + 8, lowest + 7] * 2
    first, found = shifts([*at_home, lowest - 2, *at_home], neck_map)
    assert first == neck_map.position
    assert [index for index, _ in found] == [8, 9]


def test_a_shift_says_at_which_note_and_where_to():
    assert positions_in([57, 41], MAP).shifts == (PositionShift(1, 1),)


def brute_force(soundings, neck_map):
    """The least cost by trying every place and position: a home where the map has it, any place for a note without."""
    hand = neck_map.hand
    homes = {home.sounding: home for home in neck_map.homes}

    def ways(sounding):
        home = homes.get(sounding)
        places = (home.place,) if home else neck_map.tuning.places_of(sounding, neck_map.frets)
        return [
            (one, _alone(one, home, neck_map))
            for place in places
            for position in range(1, neck_map.frets + 3)
            if place.fret == 0 or hand.lowest_fret(position) <= place.fret <= hand.highest_fret(position)
            for one in (fingered(place, position, hand),)
        ]

    return min(
        sum(alone for _, alone in path) + sum(step_cost(a[0], b[0]) for a, b in pairwise(path))
        for path in product(*map(ways, soundings))
    )


def _alone(one, home, neck_map):
    if home is None or home.outlying or not one.finger:
        return note_cost(one)
    return 0 if one.position == neck_map.hand_position(home.place) else note_cost(one) + COSTS.outlying


def test_no_other_way_of_the_hand_costs_less():
    compared = 0
    for seed in range(how_many(100, by_default=15)):
        rng = Random(seed)
        second = rng.choice((None, SecondRegion(position=4, seam=62)))
        neck_map = standard_map(position=2, frets=7, second=second, hand=rng.choice((USUAL_HAND, UNSTRETCHED)))
        if rng.random() < 0.5:
            neck_map = neck_map.with_choice(Place(rng.randint(1, 6), rng.randint(0, 7)))
        soundings = [rng.randint(40, 71) for _ in range(3)]
        found = positions_in(soundings, neck_map)
        path = [
            fingered(place, position or 1, neck_map.hand)
            for place, position in zip(found.places, found.positions, strict=True)
        ]
        if any(not one.finger for one in path):
            continue
        homes = {home.sounding: home for home in neck_map.homes}
        alone = sum(_alone(one, homes.get(sounding), neck_map) for one, sounding in zip(path, soundings, strict=True))
        cost = alone + sum(step_cost(a, b) for a, b in pairwise(path))
        assert cost == brute_force(soundings, neck_map)
        compared += 1
    assert compared > 5
