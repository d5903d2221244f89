"""A second region, joined where it serves the tunes best."""

from random import Random

import pytest

from game.errors import MapError
from game.neck.joined_maps import best_seam, joined_at
from game.neck.map_figures import figures_of
from game.neck.melody_counts import MelodyCounts, melody_counts
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import TUNINGS, Place
from game.text.catalogue import catalogue_in
from tests.refusing import refusal
from tests.sampling import how_many


def tunes(seed):
    rng = Random(seed)
    return melody_counts([[rng.randint(42, 80) for _ in range(40)] for _ in range(3)])


def test_no_other_seam_costs_less():
    for seed in range(how_many(30, by_default=4)):
        counts = tunes(seed)
        tuning = list(TUNINGS.values())[seed % len(TUNINGS)]
        found = best_seam(standard_map(tuning=tuning), 9, counts)
        others = [
            figures_of(standard_map(tuning=tuning, second=SecondRegion(position=9, seam=seam)), counts).movement
            for seam in range(30, 95)
        ]
        assert found.figures.movement == min(others)


def test_what_changes_is_told_pitch_by_pitch():
    own = standard_map()
    found = best_seam(own, 9, tunes(1))
    after = found.neck_map.places
    assert {change.sounding: (change.before, change.after) for change in found.changes} == {
        sounding: (own.places.get(sounding), after[sounding])
        for sounding in after
        if own.places.get(sounding) != after[sounding]
    }
    assert any(change.before is None for change in found.changes)


@pytest.mark.parametrize("language", ["en", "de"])
def test_it_says_where_the_hand_shifts_and_why_there(language):
    said = [catalogue_in(language).tell(one) for one in best_seam(standard_map(), 9, tunes(1)).reasons]
    assert len(said) >= 4
    assert "IX" in said[0]
    assert "V" in said[0]


def test_a_lower_region_may_be_joined_too():
    counts = melody_counts([[40, 41, 43, 45, 60, 62, 64, 72]])
    found = best_seam(standard_map(), 1, counts)
    assert found.neck_map.positions == (1, 5)
    assert found.figures.on_map_share == 1


def test_where_no_tune_asks_for_it_every_home_stays():
    own = standard_map()
    found = best_seam(own, 9, MelodyCounts())
    assert all(change.before is None for change in found.changes)
    assert own.places.items() <= found.neck_map.places.items()


def test_a_place_chosen_by_hand_stays():
    own = standard_map(choices={59: Place(3, 4)})
    assert best_seam(own, 9, tunes(2)).neck_map.home_of(59).place == Place(3, 4)


def test_a_region_off_the_neck_is_refused():
    with refusal(MapError):
        best_seam(standard_map(), 30, tunes(1))


def test_at_a_seam_of_ones_own_the_same_is_told_of_it():
    best = best_seam(standard_map(), 9, tunes(3))
    second = best.neck_map.second
    assert second is not None
    same = joined_at(standard_map(), 9, second.seam, tunes(3))
    assert (same.figures, same.changes) == (best.figures, best.changes)
    assert "cost less" not in " ".join(catalogue_in("en").tell(one) for one in same.reasons)
    other = joined_at(standard_map(), 9, second.seam + 3, tunes(3))
    assert other.neck_map == standard_map(second=SecondRegion(position=9, seam=second.seam + 3))
    assert other.figures.movement >= best.figures.movement
    with pytest.raises(MapError):
        joined_at(standard_map(), 30, 64, tunes(3))


@pytest.mark.parametrize("language", ["en", "de"])
def test_where_nothing_crosses_and_the_hand_moves_as_before_it_says_so_without_figures(language):
    counts = melody_counts([[60, 62, 64, 65, 67]])
    catalogue = catalogue_in(language)
    for found in (best_seam(standard_map(), 9, counts), joined_at(standard_map(), 9, 80, counts)):
        said = [catalogue.tell(one) for one in found.reasons]
        assert not any(sign.isdigit() for sign in said[1] + said[2])
