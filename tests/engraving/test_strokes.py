"""Straight strokes."""

from game.engraving.shapes import Box
from game.engraving.strokes import THIN, frame, stroke
from tests.engraving.touching import touch


def test_a_stroke_fills_its_box_in_the_units_of_the_engraving():
    assert stroke(Box(1.0, 2.0, 1.5, 3.0)).svg == '<rect x="180" y="360" width="90" height="180"/>'


def test_the_strokes_of_a_frame_leave_its_inside_free():
    inside = Box(1.0 + THIN, 1.0 + THIN, 9.0 - THIN, 4.0 - THIN)
    strokes = list(frame(Box(1.0, 1.0, 9.0, 4.0)))
    assert len(strokes) == 4
    assert not any(touch(one.box, inside) for one in strokes)


def test_a_frame_may_be_open_at_any_side_but_above():
    (above,) = frame(Box(1.0, 1.0, 9.0, 4.0), left=False, right=False, foot=False)
    assert above.box == Box(1.0, 1.0, 9.0, 1.0 + THIN)
