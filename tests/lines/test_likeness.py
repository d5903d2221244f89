"""What kind of line a passage is."""

from dataclasses import replace

import pytest

from game.lines.levels import LEVELS
from game.lines.likeness import nearest_level, nearest_rhythm
from game.music.meter import Meter
from game.music.passage import whole_tune
from tests.lines.making import many
from tests.made import passage, score


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.name)
def test_a_line_is_found_to_be_of_its_own_level_or_one_beside_it(level):
    lines = [whole_tune(made) for made in many(level.number)[:20]]
    assert sum(abs(nearest_level(passage).number - level.number) <= 1 for passage in lines) >= 18
    rhythms = [nearest_rhythm(passage, Meter()) for passage in lines]
    assert all(rhythm <= level.rhythm for rhythm in rhythms)
    assert sum(rhythm >= level.rhythm - 2 for rhythm in rhythms) >= 16


@pytest.mark.parametrize(
    ("row", "level"),
    [
        ("C4 q, D4 q, E4 q, F4 q", 1),
        ("C4 q, E4 q, G4 q, E4 q", 2),
        ("C4 q, D4 q, E4 h, C5 q, D5 q, E5 h", 4),
        ("C4 q, E4 q, G4 q, B4 q, D5 q, B4 q", 3),
        ("C4 q, C#4 q, D4 q, E4 q", 5),
    ],
)
def test_a_passage_is_like_the_level_that_holds_what_it_holds(row, level):
    """Five notes, an octave, the whole map, leaps, accidentals."""
    assert nearest_level(passage(row)).number == level


@pytest.mark.parametrize(
    ("row", "rhythm"),
    [
        ("C4 q, D4 h, E4 q", 1),
        ("C4 e, D4 e, E4 h.", 2),
        ("C4 q., D4 e, E4 h", 3),
        ("C4 q, r e, D4 e, E4 h", 4),
        ("C4 e, D4 q, E4 e, F4 h", 5),
    ],
)
def test_a_passage_is_like_the_rhythm_whose_signs_it_has(row, rhythm):
    assert nearest_rhythm(passage(row), Meter()) == rhythm


def test_only_swung_eighths_are_like_lines_over_changes():
    straight = score("C4 e, D4 e, E4 e, F4 e, G4 e, F4 e, E4 e, D4 e")
    assert nearest_level(whole_tune(straight)).number == 1
    assert nearest_level(whole_tune(replace(straight, swung=True))).number == 6
