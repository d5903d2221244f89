"""Where the kit draws."""

import pytest

from game.desk.kit.canvas import Align, Style, blend
from game.desk.typography import Face


def test_units_are_those_of_a_window_of_1280_by_720(canvas):
    assert canvas.point((1280, 720)) == (round(1280 * canvas.sheet.unit), round(720 * canvas.sheet.unit))
    assert canvas.rect(10, 10, 20, 20).right == canvas.rect(30, 10, 5, 5).left


@pytest.mark.parametrize(("align", "side"), [(Align.LEFT, "left"), (Align.CENTRE, "centerx"), (Align.RIGHT, "right")])
def test_a_text_stands_with_its_end_or_middle_where_it_is_put(canvas, align, side):
    rect = canvas.write("Fret", (300, 200), Style(Face.TEXT, 24, canvas.theme.ink), align)
    assert abs(getattr(rect, side) - canvas.px(300)) <= 1


def test_a_text_stands_on_its_baseline(canvas, drawn):
    canvas.write("H", (300, 200), Style(Face.TEXT, 40, canvas.theme.ink))
    assert abs(drawn(canvas).bottom - canvas.px(200)) <= 2


def test_a_width_in_units_is_about_the_same_in_every_window(canvas):
    assert canvas.width_of("As you like it", Style(Face.TITLE, 42, canvas.theme.ink)) == pytest.approx(245, abs=4)


def test_a_blend_goes_from_the_first_colour_to_the_second():
    assert [blend((0, 0, 0), (200, 100, 50), share) for share in (0, 0.5, 1)] == [
        (0, 0, 0),
        (100, 50, 25),
        (200, 100, 50),
    ]
