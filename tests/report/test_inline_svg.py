"""Figures as SVG inside a page."""

from xml.etree import ElementTree as ET

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from game.report.inline_svg import inline_svg


@pytest.fixture
def figure():
    made = Figure(figsize=(2, 1))
    FigureCanvasAgg(made)
    made.add_axes((0.1, 0.1, 0.8, 0.8)).plot((0, 1), (0, 1), label="a")
    return made


def test_it_is_one_element_as_wide_as_its_place_with_words_for_those_who_cannot_see_it(figure):
    svg = inline_svg(figure, name="x", alternative='two "points" & <more>')
    root = ET.fromstring(svg)
    assert root.get("aria-label") == 'two "points" & <more>'
    assert (root.get("role"), root.get("width"), root.get("viewBox")) == ("img", None, "0 0 144 72")


def test_nothing_in_it_is_asked_for_elsewhere(figure):
    svg = inline_svg(figure, name="x", alternative="")
    for word in ("<metadata", "<!DOCTYPE", "xlink:", "font-family", "http://purl"):
        assert word not in svg


def test_ids_of_two_pictures_on_a_page_never_meet(figure):
    ids = [
        {element.get("id") for element in ET.fromstring(inline_svg(figure, name=name, alternative="")).iter()} - {None}
        for name in ("one", "two")
    ]
    assert ids[0]
    assert ids[0].isdisjoint(ids[1])
    assert all(name.startswith("one-") for name in ids[0])


def test_the_same_figure_is_the_same_text(figure):
    assert inline_svg(figure, name="x", alternative="") == inline_svg(figure, name="x", alternative="")
