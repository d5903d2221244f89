"""Small pictures by hand are well-formed and say in words what they show."""

import xml.etree.ElementTree as ET

from game.report.plain_svg import INK, bar, dot, line, lines_through, svg_of, words


def test_a_picture_is_well_formed_whatever_its_words_are():
    parts = [
        line(0, 0, 10, 0.25, INK, dashes="4 3"),
        lines_through([(0, 0), (1.5, 2)], INK),
        dot(1, 2, 3, "none", INK),
        bar(0, 0, 5, 6, INK),
        words("<&\"'>", 1, 2, 14, anchor="middle", bold=True),
    ]
    root = ET.fromstring(svg_of(100, 20.5, parts, 'said "so" & <so>'))
    assert (root.get("viewBox"), root.get("role"), root.get("aria-label")) == (
        "0 0 100 20.5",
        "img",
        'said "so" & <so>',
    )
    assert [child.tag.rpartition("}")[2] for child in root] == ["line", "polyline", "circle", "rect", "text"]
    assert root[-1].text == "<&\"'>"
