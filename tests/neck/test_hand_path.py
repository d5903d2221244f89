"""The path of the hand through a phrase, beside trying every path."""

from itertools import product
from random import Random

import pytest

from game.neck.hand import UNSTRETCHED, USUAL_HAND, FrettingHand
from game.neck.hand_path import best_path_beside, path_of, path_through
from game.neck.movement_costs import COSTS, fingered, note_cost, step_cost
from game.neck.tuning import DEFAULT_FRETS, STANDARD, TUNINGS, Place, Tuning
from tests.sampling import how_many

RE_ENTRANT = Tuning("re-entrant", (69, 64, 60, 67))
HANDS = (USUAL_HAND, UNSTRETCHED, FrettingHand(span=3, back=1, on=0), FrettingHand(span=2, back=0, on=1))


def best_path(soundings, *, tuning=STANDARD, frets=DEFAULT_FRETS, hand=USUAL_HAND):
    """The path of least cost through pitches that may be played anywhere."""
    return path_through([tuning.places_of(sounding, frets) for sounding in soundings], hand=hand)


def ways(place, hand, highest):
    """Every way to take a place: from each position whose fingers reach it, an open string from anywhere."""
    return [
        fingered(place, position, hand)
        for position in range(1, highest + 1)
        if place.fret == 0 or hand.lowest_fret(position) <= place.fret <= hand.highest_fret(position)
    ]


def cost_of(steps):
    return sum(map(note_cost, steps)) + sum(map(step_cost, steps, steps[1:]))


def tried(choices, hand):
    """The least cost by trying every path there is."""
    highest = max(place.fret for there in choices for place in there) + hand.back + 1
    columns = [[way for place in there for way in ways(place, hand, highest)] for there in choices]
    return min(map(cost_of, product(*columns)), default=0)


def phrase(seed):
    rng = Random(seed)
    tuning, hand, frets = rng.choice((STANDARD, *TUNINGS.values(), RE_ENTRANT)), rng.choice(HANDS), rng.choice((4, 5))
    pitches = [
        tuning.sounding(Place(rng.randint(1, len(tuning.open_strings)), rng.choice((0, rng.randint(0, frets)))))
        for _ in range(rng.randint(1, 3))
    ]
    return tuning, hand, frets, pitches


@pytest.mark.parametrize("block", range(10))
def test_no_path_through_a_phrase_costs_less(block):
    for seed in range(how_many(50, by_default=8)):
        tuning, hand, frets, pitches = phrase(100 * block + seed)
        found = best_path(pitches, tuning=tuning, frets=frets, hand=hand)
        assert found.cost == tried([tuning.places_of(sounding, frets) for sounding in pitches], hand)
        assert found.cost == cost_of(found.steps)
        assert [tuning.sounding(step.place) for step in found.steps] == pitches


@pytest.mark.parametrize("block", range(10))
def test_no_hand_takes_the_places_played_for_less(block):
    for seed in range(how_many(50, by_default=8)):
        rng = Random(seed + 7000 + block)
        hand = rng.choice(HANDS)
        places = [Place(rng.randint(1, 6), rng.choice((0, rng.randint(0, 7)))) for _ in range(rng.randint(1, 4))]
        found = path_of(places, hand=hand)
        assert found.cost == tried([(place,) for place in places], hand) == cost_of(found.steps)
        assert [step.place for step in found.steps] == places


def cost_with_homes(steps, taken_from):
    """The cost of a path where places are learnt from a position: nothing from there, an exception from elsewhere."""
    alone = 0
    for one in steps:
        own = taken_from.get(one.place) if one.finger else None
        if own is None:
            alone += note_cost(one)
        elif own != one.position:
            alone += note_cost(one) + COSTS.outlying
    return alone + sum(map(step_cost, steps, steps[1:]))


@pytest.mark.parametrize("block", range(10))
def test_no_path_through_places_given_for_each_note_costs_less(block):
    for seed in range(how_many(50, by_default=6)):
        rng = Random(seed + 100 * block + 31)
        hand = rng.choice(HANDS)
        neck = [Place(string, rng.choice((0, rng.randint(0, 12)))) for string in range(1, 7)]
        choices = [rng.sample(neck, rng.choice((1, 1, 2, 0))) for _ in range(rng.randint(1, 4))]
        learnt = {place: rng.randint(max(1, place.fret - 2), place.fret) for place in neck if place.fret}
        learnt = {place: position for place, position in learnt.items() if rng.random() < 0.6}
        found = path_through(choices, taken_from=learnt, hand=hand)
        there = [one for one in choices if one]
        assert found.unreached == tuple(index for index, one in enumerate(choices) if not one)
        assert all(step.place in one for step, one in zip(found.steps, there, strict=True))
        highest = max((place.fret for one in there for place in one), default=0) + hand.back + 1
        columns = [[way for place in one for way in ways(place, hand, highest)] for one in there]
        least = min((cost_with_homes(steps, learnt) for steps in product(*columns)), default=0)
        assert found.cost == least == cost_with_homes(found.steps, learnt)


def test_what_was_played_never_costs_less_than_the_best_path():
    rng = Random(3)
    for _ in range(how_many(300, by_default=10)):
        places = [Place(rng.randint(1, 6), rng.randint(0, 22)) for _ in range(12)]
        best = best_path([STANDARD.sounding(place) for place in places])
        assert best.cost <= path_of(places).cost
        assert path_of([step.place for step in best.steps]).cost == best.cost


def test_a_scale_within_a_position_needs_no_shift():
    """C major from C3 to C5 lies in position VII without one (trade)."""
    scale = [48, 50, 52, 53, 55, 57, 59, 60, 62, 64, 65, 67, 69, 71, 72]
    path = best_path(scale)
    assert len({step.position for step in path.steps if step.finger}) == 1
    assert path_of([step.place for step in path.steps]).cost == path.cost


def test_where_a_line_climbs_far_the_hand_shifts():
    assert len({step.position for step in best_path(range(41, 86)).steps}) > 1


def test_open_strings_alone_leave_the_hand_where_it_is():
    path = path_of([Place(6, 0), Place(5, 0), Place(1, 7), Place(2, 0), Place(1, 7)])
    assert len({step.position for step in path.steps}) == 1


def test_notes_that_the_instrument_has_not_are_named_and_left_out():
    path = best_path([20, 60, 120, 62])
    assert path.unreached == (0, 2)
    assert len(path.steps) == 2
    assert best_path([20]).steps == ()


def test_no_notes_are_no_path():
    assert best_path([]).cost == path_of([]).cost == 0


@pytest.mark.parametrize("block", range(5))
def test_the_best_path_beside_one_goes_along_with_it_as_far_as_any_does(block):
    """Beside trying every best path there is, on small necks."""
    for seed in range(how_many(60, by_default=8)):
        rng = Random(9000 + 100 * block + seed)
        frets, hand = 5, rng.choice(HANDS)
        places = [Place(rng.randint(1, 6), rng.randint(0, frets)) for _ in range(rng.randint(1, 4))]
        choices = [STANDARD.places_of(STANDARD.sounding(place), frets) for place in places]
        least = tried(choices, hand)
        alike = [
            next((at for at, (one, other) in enumerate(zip(row, places, strict=True)) if one != other), None)
            for row in product(*choices)
            if tried([(place,) for place in row], hand) == least
        ]
        farthest = None if None in alike else max(alike)
        found = best_path_beside(places, frets=frets, hand=hand)
        assert found.left_at == farthest
        assert found.path.cost == found.least_cost == least
        along = found.path.steps[: len(places) if farthest is None else farthest]
        assert [step.place for step in along] == places[: len(along)]


def test_a_note_alone_and_no_note_are_their_own_best_paths():
    assert best_path_beside([Place(3, 7)]).left_at is None
    assert best_path_beside([]).left_at is None
