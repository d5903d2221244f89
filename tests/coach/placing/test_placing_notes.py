"""The single notes of the placing test."""

from random import Random

import pytest

from game.coach.placing.placing_notes import drawn_note, notes_of_level
from game.neck.neck_map import standard_map
from game.neck.tuning import Tuning

MAP = standard_map()
NATURAL = {0, 2, 4, 5, 7, 9, 11}


@pytest.mark.parametrize(("level", "count"), [(1, 5), (2, 8), (3, 11), (4, 17)])
def test_natural_notes_from_the_middle_of_the_map_on_more_from_level_to_level(level, count):
    """Position V has 17 natural notes, A2 to C5 (calculated)."""
    notes = notes_of_level(level, MAP)
    assert len(notes) == count
    assert {note % 12 for note in notes} <= NATURAL
    assert level == 1 or set(notes_of_level(level - 1, MAP)) < set(notes)


def test_the_last_level_asks_the_notes_with_a_sign():
    notes = notes_of_level(5, MAP)
    assert {note % 12 for note in notes} == set(range(12)) - NATURAL
    assert set(notes) | set(notes_of_level(4, MAP)) == set(MAP.places)


@pytest.mark.parametrize("level", range(1, 6))
def test_a_map_that_has_none_of_them_asks_what_it_has(level):
    """Six strings alike hold six pitches in a position."""
    small = standard_map(tuning=Tuning("alike", (57,) * 6))
    assert set(notes_of_level(level, small)) <= set(small.places)
    assert notes_of_level(level, small)


def test_none_of_the_last_two_notes_comes_again_where_there_is_another():
    rng, asked = Random(1), []
    for _ in range(200):
        asked.append(drawn_note(1, MAP, asked, rng))
    assert all(asked[at] not in asked[at - 2 : at] for at in range(2, 200))
    assert set(asked) == set(notes_of_level(1, MAP))
