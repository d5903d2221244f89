"""What a map means for the tunes on the shelf, counted on the shipped tunes by hand."""

from dataclasses import replace

import pytest

from game.music.written import written_notes, written_out
from game.neck.hand import UNSTRETCHED
from game.neck.map_figures import figures_of
from game.neck.neck_map import Reach, standard_map
from game.neck.tuning import Place
from game.screens.setup.map_shelf import MapShelf
from game.tunes.library.library import open_entry, shipped_entries

MAP = standard_map()
B, OTHER = 59, Place(4, 9)


@pytest.fixture(scope="module")
def entries():
    return shipped_entries()[:12]


@pytest.fixture(scope="module")
def played(entries):
    """Every note in order of play, tune by tune."""
    scores = [open_entry(entry) for entry in entries]
    return [[note.sounding for note in written_notes(written_out(score).bars, score.reading)] for score in scores]


def test_tunes_and_notes_are_counted_as_they_are_played(entries, played):
    plain = standard_map(hand=UNSTRETCHED)
    homes = plain.places
    figures = MapShelf(entries, plain).figures(plain)
    assert figures.tunes == len(entries)
    assert figures.notes == sum(map(len, played))
    assert figures.wholly == sum(set(tune) <= homes.keys() for tune in played) < len(entries)
    assert figures.homeless == sum(note not in homes for tune in played for note in tune) > 0
    assert figures.stretches == 0


def test_a_home_that_moves_moves_all_its_notes_and_no_other(entries, played):
    shelf, after = MapShelf(entries, MAP), MAP.with_choice(OTHER)
    assert shelf.moved(MAP, after) == shelf.moved(after, MAP) == sum(tune.count(B) for tune in played) > 0
    assert shelf.moved(MAP, MAP) == 0


def test_what_a_place_would_cost_is_what_the_map_with_it_costs_more(entries):
    shelf = MapShelf(entries, MAP)
    now = figures_of(MAP, shelf.counts).movement
    for cost in shelf.costs_of(MAP, B):
        then = figures_of(MAP.with_choice(cost.place), shelf.counts).movement
        assert cost.growth == pytest.approx((then - now) / now)
        assert cost.reach_now is Reach.STRETCH
    assert [cost.place for cost in shelf.costs_of(MAP, B)] == [OTHER, Place(2, 0), Place(5, 14), Place(6, 19)]


def test_a_shelf_with_no_note_on_the_map_is_counted_too(entries):
    far = [replace(entries[0], counts=((100, 3),), pairs="0 100 1 100 100 2")]
    shelf = MapShelf(far, MAP)
    figures = shelf.figures(MAP)
    assert (figures.wholly, figures.homeless, figures.notes, figures.stretch_share) == (0, 3, 3, 0.0)
    assert all(cost.times == 0 for cost in shelf.costs_of(MAP, B))
    assert MapShelf((), MAP).figures(MAP).movement == 0
