"""The lane of chord symbols."""

import pytest

from game.engraving.chord_lane import place_chords
from game.engraving.shapes import Box, System, TextExtent
from game.engraving.skyline import Skyline


def lane(*chords, boxes=(), right=40.0):
    """The symbols, each four spaces wide, on a line from 0 to `right` whose top line is at 10."""
    system = System(top_line=10.0, left=0.0, right=right)
    skyline = Skyline(0.0, right, 9.6)
    skyline.add(boxes)
    place_chords(system, chords, lambda *_: TextExtent(4.0, 1.2, 0.0), skyline)
    return system.texts


def test_all_symbols_of_a_line_stand_on_one_baseline_above_the_highest_note_under_any():
    high_note = Box(20.0, 5.0, 21.0, 11.0)
    first, second = lane(("C", 2.0), ("F", 19.0), boxes=[high_note])
    assert first.baseline == second.baseline < 5.0


def test_a_high_note_that_no_symbol_stands_over_lifts_nothing():
    low = lane(("C", 2.0))[0].baseline
    assert lane(("C", 2.0), boxes=[Box(20.0, 5.0, 21.0, 11.0)])[0].baseline == low


def test_a_figure_right_beside_a_symbol_lifts_the_lane_and_one_farther_off_does_not():
    """A 3 of a triplet behind "Cm7" would read as "Cm73"."""
    low = lane(("Cm7", 2.0))[0].baseline
    assert lane(("Cm7", 2.0), boxes=[Box(6.3, 6.0, 7.0, 8.0)])[0].baseline < 6.0
    assert lane(("Cm7", 2.0), boxes=[Box(7.5, 6.0, 8.2, 8.0)])[0].baseline == low


def test_a_symbol_that_would_touch_the_one_before_stands_in_a_row_above():
    first, second, third = sorted(lane(("C", 2.0), ("F", 4.0), ("G", 20.0)), key=lambda text: text.x)
    assert first.baseline == third.baseline
    assert second.baseline <= first.baseline - 1.2


def test_a_symbol_at_the_end_of_the_page_stays_on_it():
    (chord,) = lane(("C", 39.0))
    assert chord.box.right == pytest.approx(40.0)
