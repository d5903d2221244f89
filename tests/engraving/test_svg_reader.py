"""verovio's SVG taken apart."""

import pygame
import pytest

from game.engraving.engraver import EngravedFace, endless_svg
from game.engraving.layout import lay_out_line
from game.engraving.notation import musicxml
from game.engraving.raster import Grid, white_mask
from game.engraving.shapes import Box
from game.engraving.svg_reader import SvgReader
from game.music.score import BarLine, BarMarks, Reading
from game.music.written import HeadId


def test_every_bar_has_its_end(page):
    system = lay_out_line(page, Reading.GUITAR).systems[0]
    assert len(system.bar_ends) == len(page)
    assert system.bar_ends == sorted(system.bar_ends)


def test_beams_and_ties_know_their_noteheads(page):
    joins = {join.heads for join in lay_out_line(page, Reading.GUITAR).systems[0].joins}
    assert tuple(HeadId(1, event) for event in range(4)) in joins
    assert (HeadId(2, 5), HeadId(3, 0)) in joins


def read(inside, defs=""):
    """What the reader makes of one line of one bar with these elements in it."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">'
        f'<defs>{defs}</defs><svg><g class="system"><g class="measure"><g class="staff">'
        f'<path d="M0 360 L3600 360"/></g>{inside}</g></g></svg></svg>'
    )
    return SvgReader(svg, "Leland", 1)


def test_the_first_staff_line_tells_where_the_staff_is():
    """180 of verovio's units are a staff space."""
    (system,) = read("").systems
    assert (system.top_line, system.left, system.right) == (2.0, 0.0, 20.0)


@pytest.mark.parametrize(
    ("element", "box"),
    [
        ('<rect x="180" y="360" width="90" height="180"/>', Box(1.0, 2.0, 1.5, 3.0)),
        ('<ellipse cx="180" cy="180" rx="90" ry="45"/>', Box(0.5, 0.75, 1.5, 1.25)),
        ('<circle cx="180" cy="180" r="90"/>', Box(0.5, 0.5, 1.5, 1.5)),
        ('<polygon points="0,0 180,0 180,360 0,360"/>', Box(0.0, 0.0, 1.0, 2.0)),
        ('<path d="M180 180 L360 180" stroke-width="36"/>', Box(0.9, 0.9, 2.1, 1.1)),
    ],
)
def test_each_kind_of_element_has_its_box_in_staff_spaces(element, box):
    """A stroke counts by its width."""
    (system,) = read(f'<g class="note" id="n0-0"><g class="stem">{element}</g></g>').systems
    (shape,) = system.groups[HeadId(0, 0)]
    found = shape.box
    assert (found.left, found.top, found.right, found.bottom) == pytest.approx(
        (box.left, box.top, box.right, box.bottom)
    )


def test_a_dashed_bar_line_is_drawn_in_dashes(bar, request):
    """Seen in its mask, which takes the format of a screen: paper shows between its ends."""
    request.getfixturevalue("screen")
    bars = (bar("C5:4", marks=BarMarks(bar_line=BarLine.DASHED)), bar("C5:4"))
    system = lay_out_line(bars, Reading.GUITAR).systems[0]
    line = next(shape for shape in system.ground if shape.box.left == system.bar_ends[0])
    grid = Grid(20, line.box.left, line.box.top)
    mask = pygame.mask.from_surface(white_mask((line,), grid.covering(line.box), grid))
    assert len(mask.connected_components()) > 3


def test_only_the_head_of_a_note_counts_for_its_head_box():
    stem = '<g class="stem"><rect x="0" y="0" width="18" height="900"/></g>'
    head = '<g class="notehead"><rect x="180" y="360" width="180" height="180"/></g>'
    (system,) = read(f'<g class="note" id="n0-0">{head}{stem}</g>').systems
    assert system.head_boxes[HeadId(0, 0)] == Box(1.0, 2.0, 2.0, 3.0)
    assert len(system.groups[HeadId(0, 0)]) == 2


def test_texts_are_kept_with_their_bar_and_place_and_bar_numbers_are_not():
    reader = read('<g class="dir"><text x="360" y="90"><tspan>To </tspan><tspan> Coda</tspan></text></g>'
                  '<g class="mNum"><text x="0" y="0">7</text></g>')  # fmt: skip
    (text,) = reader.texts
    assert (text.kind, text.bar, text.text, text.x) == ("dir", 0, "To Coda", 2.0)


def test_segno_and_coda_are_kept_with_their_bar_and_the_box_of_a_section_word_is_not():
    sign = '<g class="repeatMark"><rect x="180" y="0" width="180" height="180"/></g>'
    section = '<g class="reh"><rect x="0" y="0" width="99" height="99"/><text x="9" y="9">B</text></g>'
    reader = read(sign + section)
    assert [(one.bar, one.shape.box) for one in reader.signs] == [(0, Box(1.0, 0.0, 2.0, 1.0))]
    assert [text.text for text in reader.texts] == ["B"]
    assert reader.systems[0].ground == []


def test_brackets_of_endings_and_bars_behind_the_last_wanted_are_passed_over():
    reader = read('<g class="voltaBracket"><path d="M0 0 L9 0"/><text x="0" y="0">1</text></g></g>'
                  '<g class="measure"><rect x="0" y="0" width="9" height="9"/>')  # fmt: skip
    (system,) = reader.systems
    assert (system.bars, system.ground, reader.texts) == ([0], [], [])


def test_clef_key_and_metre_of_the_first_bar_are_its_opening_and_later_ones_ground(bar):
    svg = endless_svg(musicxml((bar("C5:4"), bar("C5:4", fifths=2)), Reading.GUITAR), EngravedFace.ENGRAVED)
    (system,) = SvgReader(svg, "Leland", 9).systems
    assert len(system.opening) == 3
    assert len(system.ground) >= 2


def test_a_repeat_ends_its_bar_at_its_leftmost_stroke(bar):
    """The thin one of a thin and a thick stroke; its dots do not count."""
    bars = (bar("C5:4", marks=BarMarks(repeat_end=2)), bar("C5:4"))
    svg = endless_svg(musicxml(bars, Reading.GUITAR), EngravedFace.ENGRAVED)
    (system,) = SvgReader(svg, "Leland", 9).systems
    assert len(system.bar_ends) == 2
    strokes = [shape.box.left for shape in system.ground if shape.box.bottom - shape.box.top > 3]
    assert system.bar_ends == [strokes[0], strokes[2]]
    assert strokes[0] < strokes[1] < strokes[2]


def test_a_document_without_what_is_looked_for_is_an_error():
    with pytest.raises(ValueError, match="no <defs>"):
        SvgReader('<svg xmlns="http://www.w3.org/2000/svg"/>', "Leland", 9)
