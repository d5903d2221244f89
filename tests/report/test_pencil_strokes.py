"""The pencil as curves of SVG."""

import re
from xml.etree import ElementTree as ET

import pytest

from game.engraving.engraver import UNITS_PER_SPACE
from game.report.pencil_strokes import WRONG, head, ring, sign, stroke, written


def points(shape):
    return [tuple(map(int, pair.split(","))) for pair in re.search(r'points="([^"]*)"', shape.svg).group(1).split()]


def test_a_stroke_begins_where_it_is_put_and_ends_near_its_end_by_its_seed():
    drawn = stroke(((0, 0), (10, 0)), 0.1, WRONG, seed=1)
    first, *_, last = points(drawn)
    assert abs(first[0]) + abs(first[1]) < 0.2 * UNITS_PER_SPACE
    assert abs(last[0] - 10 * UNITS_PER_SPACE) < 0.5 * UNITS_PER_SPACE
    assert drawn.svg == stroke(((0, 0), (10, 0)), 0.1, WRONG, seed=1).svg
    assert drawn.svg != stroke(((0, 0), (10, 0)), 0.1, WRONG, seed=2).svg


@pytest.mark.parametrize("shape", [ring((5, 5), 2.0, 0.1, WRONG, 3), head((5, 5), WRONG, 3)])
def test_rings_and_heads_lie_round_their_middle_and_in_their_box(shape):
    box = shape.box
    assert abs((box.left + box.right) / 2 - 5) < 0.4
    assert abs((box.top + box.bottom) / 2 - 5) < 0.4
    for x, y in points(shape):
        assert box.left * UNITS_PER_SPACE - 1 <= x <= box.right * UNITS_PER_SPACE + 1
        assert box.top * UNITS_PER_SPACE - 1 <= y <= box.bottom * UNITS_PER_SPACE + 1


def test_a_sign_stands_to_the_left_of_where_it_is_put():
    sharp = sign("E262", 3.0, 0.0, WRONG, size=1.0)
    assert sharp.box.right == pytest.approx(3.0)
    assert sharp.box.left < 3.0


def test_words_are_escaped_and_stand_where_their_anchor_says():
    said = written("<3>", (4.0, 1.0), 1.2, WRONG, anchor="start")
    assert ET.fromstring(said.svg).text == "<3>"
    assert said.box.left == 4.0
    middle = written("33", (4.0, 1.0), 1.2, WRONG)
    assert (middle.box.left + middle.box.right) / 2 == pytest.approx(4.0)
