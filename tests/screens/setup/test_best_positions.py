"""The positions side by side: the best first, one chosen, all of them in reach of the arrows and of the mouse."""

import pytest

from game.neck.melody_counts import melody_counts
from game.neck.neck_map import standard_map
from game.neck.tuning import tuning_named
from game.screens.setup.best_positions import best_positions

LOW, HIGH = melody_counts([[40, 43, 45, 47] * 5]), melody_counts([[76, 78, 79, 81] * 5])


def test_the_best_position_stands_first_and_follows_the_tunes():
    for counts, fits in ((LOW, lambda position: position <= 3), (HIGH, lambda position: position >= 8)):
        best = best_positions(standard_map(), counts)
        movements = [one.movement for one in best.found]
        assert movements == sorted(movements)
        assert fits(best.best.neck_map.position)


def test_the_neck_and_the_hand_are_those_of_the_map():
    neck_map = standard_map(tuning=tuning_named("dadgad"), frets=12)
    best = best_positions(neck_map, LOW)
    assert all(one.neck_map.tuning == neck_map.tuning and one.neck_map.frets == 12 for one in best.found)
    assert {one.neck_map.position for one in best.found} == set(range(1, 10))


@pytest.mark.parametrize("foot", [400.0, 620.0, 1000.0])
def test_every_row_is_reached_and_the_chosen_one_is_in_sight(foot):
    best = best_positions(standard_map(), LOW)
    for number in range(len(best.found)):
        assert best.chosen == number
        first = best.first_shown(foot)
        assert first <= number < first + best.rows_shown(foot)
        assert best.row_at((110, 330 + 34 * (number - first + 1) - 8), foot) == number
        best.choose(1)
    assert best.chosen == 0
    assert best.row_at((110, 300), foot) is None
    assert best.row_at((1000, 360), foot) is None
