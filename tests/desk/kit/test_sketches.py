"""Small drawings in pencil."""

import pytest

from game.desk.kit.sketches import (
    SKETCH_SIZE,
    draw_guitar_with_cable,
    draw_guitar_with_microphone,
    draw_neck_with_pointer,
    smooth,
)


@pytest.mark.parametrize("sketch", [draw_guitar_with_cable, draw_guitar_with_microphone, draw_neck_with_pointer])
def test_each_fills_its_room_and_stays_in_it(canvas, drawn, sketch):
    sketch(canvas, (200, 200))
    width, height = SKETCH_SIZE
    box = drawn(canvas)
    assert canvas.rect(196, 192, width + 8, height).contains(box)
    assert box.width > canvas.px(0.8 * width)


def test_a_smooth_curve_goes_through_its_points():
    points = ((0.0, 0.0), (10.0, 20.0), (30.0, 10.0), (40.0, 40.0))
    curve = smooth(points)
    assert set(points) <= set(curve)
    assert len(curve) == 31


def test_a_closed_curve_comes_back_to_where_it_began():
    curve = smooth(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0)), closed=True)
    assert curve[0] == curve[-1]
