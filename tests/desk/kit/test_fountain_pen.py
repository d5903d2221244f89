"""The pen lies above and right of its nib."""

from game.desk.kit.fountain_pen import LENGTH, draw_pen


def test_it_reaches_from_its_nib_up_to_the_right(canvas, drawn):
    draw_pen(canvas, (640.0, 400.0))
    room = drawn(canvas)
    assert abs(room.left - canvas.px(640)) <= canvas.px(4)
    assert room.bottom <= canvas.px(400 + 14)
    assert canvas.px(0.8 * LENGTH) < room.width < canvas.px(LENGTH)
