"""The weights lines are drawn by."""

import json

import pytest

from game.lines.line_weights import Idiom, weights_of
from game.lines.rhythms import HALF, level_of_cell
from game.paths import shipped


@pytest.mark.parametrize("idiom", list(Idiom))
def test_each_idiom_has_cells_and_intervals_that_can_be_drawn_and_says_what_they_were_set_by(idiom):
    weights = weights_of(idiom)
    for table in (*weights.cells["4/4"].values(), *weights.intervals.values()):
        assert all(weight > 0 for weight in table.values())
    assert {"long|strong", "long|beat", "long|off", "strong|2", "off|-1"} <= weights.intervals.keys()
    about = json.loads(shipped("content", "lines", f"{idiom.value}.json").read_text(encoding="utf-8"))
    assert "set by counts in" in about["source"]
    assert about["ours"].startswith("No count but ours")


@pytest.mark.parametrize("idiom", list(Idiom))
def test_every_cell_is_within_a_rhythm_level(idiom):
    for table in weights_of(idiom).cells["4/4"].values():
        for name in table:
            cell = () if name == "-" else tuple(map(int, name.split()))
            assert cell == tuple(sorted(cell))
            assert level_of_cell(cell, HALF) <= 7


@pytest.mark.parametrize("idiom", [Idiom.LEAD, Idiom.SOLO])
def test_degrees_are_twelve_and_the_tones_of_a_major_chord_weigh_most_on_strong_beats(idiom):
    degrees = weights_of(idiom).degrees
    assert all(len(row) == 12 for row in degrees.values())
    row = degrees["M|strong"]
    assert set(sorted(range(12), key=row.__getitem__)[-3:]) == {0, 4, 7}
