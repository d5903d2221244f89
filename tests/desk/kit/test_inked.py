"""Lines of the pen."""

import pytest

from game.desk.kit.inked import draw_dot, draw_ink, draw_pill, draw_shape


def near(canvas, at, colour):
    """Whether a pixel has a colour, but for what smoothing takes from it."""
    return all(abs(a - b) <= 6 for a, b in zip(canvas.surface.get_at(at)[:3], colour, strict=True))


def test_a_line_goes_through_its_places_in_its_colour(canvas, drawn):
    draw_ink(canvas, [(100, 100), (300, 100)], 4, canvas.theme.read)
    assert near(canvas, canvas.point((200, 100)), canvas.theme.read)
    assert drawn(canvas).width == pytest.approx(canvas.px(204), abs=3)


def test_a_shape_is_filled(canvas):
    draw_shape(canvas, [(100, 100), (200, 100), (200, 200), (100, 200)], canvas.theme.ink)
    assert near(canvas, canvas.point((150, 150)), canvas.theme.ink)


def test_a_dot_may_have_a_ring_of_another_colour(canvas):
    draw_dot(canvas, (200, 200), 40, canvas.theme.paper, ring=canvas.theme.read)
    x, y = canvas.point((200, 200))
    assert near(canvas, (x, y), canvas.theme.paper)
    assert any(near(canvas, (x + step, y), canvas.theme.read) for step in range(canvas.px(17), canvas.px(22)))


def test_a_pill_is_as_wide_and_as_high_as_was_said_and_may_have_a_ring(canvas, drawn):
    draw_pill(canvas, (200, 200), (60, 30), canvas.theme.read, ring=canvas.theme.ink)
    seen = drawn(canvas)
    assert (seen.width, seen.height) == (pytest.approx(canvas.px(60), abs=4), pytest.approx(canvas.px(30), abs=4))
    assert near(canvas, canvas.point((200, 200)), canvas.theme.read)
