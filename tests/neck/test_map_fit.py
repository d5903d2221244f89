"""Which map serves given tunes best."""

import pytest

from game.neck.map_fit import best_fits, fit_of
from game.neck.neck_map import standard_map


def test_a_fit_counts_notes_as_often_as_they_occur():
    fit = fit_of(standard_map(), [60, 60, 60, 90])
    assert fit.on_map_share == 0.75
    assert fit.unreached == (90,)
    assert fit.stretch_share == 0


def test_stretches_are_told_apart():
    assert fit_of(standard_map(), [59, 60]).stretch_share == 0.5


def test_low_notes_are_best_served_in_the_open_position():
    assert best_fits([40, 41, 43, 45])[0].neck_map.position == 1


def test_of_equal_maps_the_one_with_fewer_stretches_comes_first():
    best = best_fits(range(45, 50))
    assert best[0].stretch_share == min(fit.stretch_share for fit in best if fit.on_map_share == 1)


def test_no_notes_fit_everywhere():
    assert best_fits([])[0].on_map_share == 1


@pytest.mark.parametrize("frets", [12, 22, 24])
def test_every_position_that_the_neck_allows_up_to_xii_is_tried(frets):
    assert len(best_fits([60], frets=frets)) == min(12, frets - 3)
