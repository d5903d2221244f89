"""A signature stays in its room, and is written as far as the pen has come."""

import pytest

from game.desk.kit.signature import SigningRoom, draw_name, draw_strokes, writable

ROOM = SigningRoom(640.0, 480.0, 480.0, 112.0)
STROKE = tuple((0.2 + 0.03 * step, 0.5 + 0.3 * (step % 2)) for step in range(100))
NAMES = ["A. Reader", "Zoë Žižek-Ńęło", "M" * 60, "i", "🎸 Ann 🎶"]


def outline(canvas):
    return canvas.rect(ROOM.left, ROOM.top, ROOM.width, ROOM.height).inflate(canvas.px(24), canvas.px(40))


@pytest.mark.parametrize("name", NAMES)
def test_every_name_fits_its_room(canvas, drawn, name):
    draw_name(canvas, name, ROOM, canvas.theme.read, 1.0)
    assert drawn(canvas).width > 0
    assert outline(canvas).contains(drawn(canvas))


@pytest.mark.parametrize(
    "strokes", [(STROKE,), (((0.1, 0.1),),), (((0.0, 0.0), (8.0, 1.0)),)], ids=["long", "dot", "wide"]
)
def test_every_drawing_fits_its_room(canvas, drawn, strokes):
    draw_strokes(canvas, strokes, ROOM, canvas.theme.read, 1.0)
    assert drawn(canvas).width > 0
    assert outline(canvas).contains(drawn(canvas))


def test_half_written_it_ends_where_the_pen_is(canvas, drawn):
    x, _ = draw_strokes(canvas, (STROKE,), ROOM, canvas.theme.read, 0.5)
    assert abs(drawn(canvas).right / canvas.sheet.unit - x) < 6
    canvas.surface.fill(canvas.theme.paper)
    x, _ = draw_name(canvas, "A. Reader", ROOM, canvas.theme.read, 0.5)
    assert drawn(canvas).right / canvas.sheet.unit <= x + 2


def test_nothing_leaves_the_paper_empty(canvas, drawn):
    draw_strokes(canvas, (), ROOM, canvas.theme.read, 1.0)
    draw_name(canvas, "🎸🎸", ROOM, canvas.theme.read, 1.0)
    assert drawn(canvas).size == (0, 0)


def test_of_a_name_what_our_type_lacks_is_left_out(canvas):  # noqa: ARG001 - fonts are there
    assert writable("🎸 Ann 🎶") == "Ann"
    assert writable("Zoë") == "Zoë"


def test_a_point_outside_is_brought_to_the_edge_and_comes_back_to_its_place():
    assert ROOM.heights((0.0, 10_000.0)) == (0.0, 1.0)
    assert ROOM.point(ROOM.heights((700.0, 500.0))) == pytest.approx((700.0, 500.0))
    assert ROOM.holds((700.0, 500.0))
    assert not ROOM.holds((600.0, 500.0))
