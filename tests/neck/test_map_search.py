"""The map that serves given tunes best, beside trying every map."""

from itertools import count, islice, product
from math import prod
from random import Random

import pytest

from game.errors import MapError
from game.neck.hand import UNSTRETCHED, USUAL_HAND, FrettingHand
from game.neck.map_search import best_map, best_maps, outlying_homes
from game.neck.melody_counts import melody_counts
from game.neck.neck_map import Reach, SecondRegion, new_map, reach_of, standard_map
from game.neck.tuning import DEFAULT_FRETS, STANDARD, TUNINGS, Place, Tuning
from tests.neck.test_map_figures import walked
from tests.refusing import refusal
from tests.sampling import how_many

UNISON = Tuning("a pair in unison", (64, 64, 55, 50))
RE_ENTRANT = Tuning("re-entrant", (69, 64, 60, 67))
BASS = Tuning("bass", (43, 38, 33, 28))
EIGHT = Tuning("eight", (64, 59, 55, 50, 45, 40, 35, 30))
HANDS = (
    USUAL_HAND,
    FrettingHand(back=0, on=0),
    FrettingHand(open_strings=True),
    FrettingHand(span=3, back=2, on=1, open_strings=True),
    FrettingHand(span=6, back=0, on=2),
    FrettingHand(span=1, back=0, on=0),
)


def case(seed):
    """A small neck, some hand, a position and a few tunes on few pitches."""
    rng = Random(seed)
    tuning = rng.choice((*TUNINGS.values(), STANDARD, UNISON, RE_ENTRANT, BASS, EIGHT))
    hand, frets = rng.choice(HANDS), rng.choice((4, 7, 12, 15, 22, 24))
    position = rng.randint(1, max(1, min(12, frets - hand.span + 1)))
    lowest, highest = min(tuning.open_strings) - 2, max(tuning.open_strings) + frets + 2
    middle = rng.randint(lowest, highest)
    pitches = [rng.randint(middle - 9, middle + 9) for _ in range(rng.randint(1, 7))]
    tunes = [[rng.choice(pitches) for _ in range(rng.randint(0, 9))] for _ in range(rng.randint(1, 3))]
    return {"tuning": tuning, "hand": hand, "frets": frets}, position, tunes, rng.random() < 0.75


def homes_tried(words, position, tunes, *, outlying):
    """For each pitch of the tunes the places it may have: in reach where there are any, else anywhere or nowhere."""
    tried = {}
    for sounding in {sounding for tune in tunes for sounding in tune}:
        places = words["tuning"].places_of(sounding, words["frets"])
        within = [place for place in places if reach_of(place.fret, position, words["hand"]) is not Reach.OUTLYING]
        if within or (places and outlying):
            tried[sounding] = within or places
    return tried


def cases_to_choose_in(first_seed):
    """Small cases, one after another, in which there is more than one map to choose from, and few enough to try."""
    for seed in count(first_seed):
        words, position, tunes, outlying = case(seed)
        tried = homes_tried(words, position, tunes, outlying=outlying)
        if 1 < prod(map(len, tried.values())) <= 300:
            yield words, position, tunes, outlying, tried


@pytest.mark.parametrize("block", range(10))
def test_no_map_of_the_position_costs_less(block):
    """Every map is tried: free homes, outlying ones and pairs of them, odd tunings, small and large hands."""
    cases = islice(cases_to_choose_in(10_000 * block), how_many(100, by_default=5))
    for words, position, tunes, outlying, tried in cases:
        least = min(
            walked(new_map(position=position, choices=dict(zip(tried, every, strict=True)), **words), tunes)
            for every in product(*tried.values())
        )
        found = best_map(melody_counts(tunes), position, outlying=outlying, **words)
        assert found.movement * sum(map(len, tunes)) == pytest.approx(least)
        assert walked(found.neck_map, tunes) == least


def test_the_neighbours_decide_where_a_pitch_has_its_home():
    """F♯3 is fret 9 of string 5 or fret 4 of string 4 (calc): each time the neighbours lie on the same string."""
    low = best_map(melody_counts([[50, 54, 53, 54, 52, 54]]), 5)
    high = best_map(melody_counts([[56, 54, 57, 54, 58, 54, 57]]), 5)
    assert low.neck_map.home_of(54).place == Place(5, 9)
    assert high.neck_map.home_of(54).place == Place(4, 4)


def test_an_outlying_home_is_found_beside_the_other_that_the_tunes_go_to():
    """In position I, E5 (76) has its nearest place at fret 12. B4 (71) alone would have its home at fret 7 of string 1;
    beside E5 all the time, at fret 12 of string 2, where the hand is (calc).
    """
    alone = best_map(melody_counts([[60, 71, 62, 71, 64]]), 1)
    beside = best_map(melody_counts([[60, 76, 71, 76, 71, 76, 71, 76, 71, 76]]), 1)
    assert alone.neck_map.home_of(71).place == Place(1, 7)
    assert beside.neck_map.home_of(71).place == Place(2, 12)
    assert beside.on_map_share == 1


def test_without_outlying_homes_what_the_position_lacks_has_none():
    found = best_map(melody_counts([[60, 79]]), 5, outlying=False)
    assert found.unreached == (79,)
    assert not any(home.outlying for home in found.neck_map.homes)


def test_a_pitch_that_the_instrument_has_not_stays_without_a_home():
    assert best_map(melody_counts([[20, 60, 110]]), 5).unreached == (20, 110)


def test_pitches_that_do_not_occur_keep_their_usual_homes():
    found = best_map(melody_counts([[50, 54, 52, 54, 50]]), 5)
    usual = standard_map().places
    assert {sounding: place for sounding, place in found.neck_map.places.items() if sounding != 54} == {
        sounding: place for sounding, place in usual.items() if sounding != 54
    }
    assert set(found.neck_map.choices) <= {54}


def test_low_notes_are_best_served_in_the_open_position():
    assert best_map(melody_counts([[40, 41, 43, 45, 41]])).neck_map.position == 1


def test_the_best_position_comes_first_and_no_position_costs_less():
    found = best_maps(melody_counts([[62, 64, 66, 67, 69, 71, 69, 66, 62]]))
    assert [one.movement for one in found] == sorted(one.movement for one in found)


def test_few_notes_off_the_map_do_not_outweigh_stretches_all_along():
    """Of two positions, one that holds every note with a stretch in three is worse than one that lacks one in 200."""
    tune = [60, 62, 64, 65, 67, 69, 70, 72] * 25 + [76]
    assert best_map(melody_counts([tune])).neck_map.position == 5


@pytest.mark.parametrize("frets", [4, 12, 22, 24])
def test_every_position_that_the_neck_allows_up_to_xii_is_tried(frets):
    positions = [one.neck_map.position for one in best_maps(melody_counts([[60]]), frets=frets)]
    assert sorted(positions) == list(range(1, min(12, frets - 3) + 1))


def test_no_notes_are_served_everywhere_and_position_v_comes_first():
    found = best_maps(melody_counts([]))
    assert {one.movement for one in found} == {0}
    assert found[0].neck_map == standard_map()


def test_the_search_leaves_the_players_own_map_where_it_is():
    """The few maps that are kept are those of settings, which every row of a page asks for."""
    own = standard_map(position=7)
    for frets in (12, 15, 20, 22, 24):
        best_maps(melody_counts([[60, 79, 41]]), frets=frets)
    assert standard_map(position=7) is own


@pytest.mark.parametrize("words", [{"position": 20}, {"frets": 3}, {"hand": FrettingHand(span=0)}])
def test_what_the_neck_has_not_is_refused(words):
    with refusal(MapError):
        best_map(melody_counts([[60]]), **({"position": 5, "frets": DEFAULT_FRETS} | words))


def test_counts_of_a_neck_are_those_known():
    """Places, pitches and places of a pitch (check-values; calc)."""
    for frets, places, pitches, most in ((22, 138, 47, 5), (24, 150, 49, 6)):
        found = [STANDARD.places_of(sounding, frets) for sounding in range(40, 64 + frets + 1)]
        assert (sum(map(len, found)), len(found), max(map(len, found))) == (places, pitches, most)
    assert len(STANDARD.places_of(64, 24)) == 6
    assert sum(len(STANDARD.places_of(sounding, 22)) == 1 for sounding in range(40, 87)) == 10


def test_what_a_position_holds_twice_is_what_is_known():
    """In position V C♯3, F♯3, B3 and G♯4 are stretches either way (check-values), and E♭4 and E4 lie under the fingers
    once and are a stretch besides (calc); of 24 pitches without stretches, and 30 with. In the open position only B3.
    """
    chromatic = [list(range(38, 80))]
    usual = {"tuning": STANDARD, "hand": USUAL_HAND, "frets": 22}
    small = usual | {"hand": UNSTRETCHED}
    fifth = homes_tried(usual, 5, chromatic, outlying=False)
    assert {sounding for sounding, there in fifth.items() if len(there) > 1} == {49, 54, 59, 68} | {63, 64}
    assert len(fifth) == 30
    assert len(homes_tried(small, 5, chromatic, outlying=False)) == 24
    opened = homes_tried(small, 1, chromatic, outlying=False)
    assert {sounding for sounding, there in opened.items() if len(there) > 1} == {59}


@pytest.mark.parametrize("second", [None, SecondRegion(position=9, seam=64)])
def test_homes_put_beside_a_map_cost_least_of_all_while_every_other_stays(second):
    """Also beside two regions: the hand shifts from the one that a pitch belongs to."""
    for seed in range(how_many(60, by_default=8)):
        rng = Random(seed)
        pitches = [*(rng.randint(45, 72) for _ in range(4)), rng.choice((38, 40, 43)), *rng.sample(range(74, 88), 2)]
        tunes = [[rng.choice(pitches) for _ in range(12)] for _ in range(2)]
        own = standard_map(choices={59: Place(3, 4)}, second=second)
        found = outlying_homes(own, melody_counts(tunes))
        lacking = {sounding for tune in tunes for sounding in tune if own.home_of(sounding) is None}
        tried = {sounding: there for sounding in lacking if (there := STANDARD.places_of(sounding, DEFAULT_FRETS))}
        assert found.keys() == tried.keys()
        every = (dict(zip(tried, one, strict=True)) for one in product(*tried.values()))
        assert walked(own.remade(choices={**own.choices, **found}), tunes) == min(
            walked(new_map(choices={**own.choices, **one}, second=second), tunes) for one in every
        )
