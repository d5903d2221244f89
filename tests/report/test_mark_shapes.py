"""Where the pencil marks stand on an engraved line."""

import re

import pytest

from game.engraving.layout import lay_out_page
from game.music.pitch import pitch
from game.neck.tuning import Place
from game.practice.pencilled import MissedMark, OffTimeMark, PaceMark, PlacedMark, PlaceMark, PlayedHead, UnsureMark
from game.report.mark_shapes import mark_shapes, slow_shapes
from tests.made import passage


@pytest.fixture(scope="module")
def line():
    """Half-notes an octave apart and the heads of the first bar."""
    tune = passage("F4 h, D5 h", "A4 h, C5 h", key=-1)
    return lay_out_page(tune.bars, tune.reading, 62.0).systems[0], [note.heads[0] for note in tune.notes]


def test_a_played_head_stands_on_its_own_line_and_beside_the_note_where_they_would_touch(line):
    system, heads = line
    printed = system.head_boxes[heads[0]]
    far, *ledger = mark_shapes(system, PlacedMark(heads[0], PlayedHead(pitch=pitch("C4"), show_sign=False)))
    # C4 lies on the first ledger line below a treble staff: five spaces under its top line (trade).
    assert (far.box.top + far.box.bottom) / 2 == pytest.approx(system.top_line + 5, abs=0.15)
    assert far.box.left < printed.right
    assert len(ledger) == 1
    near, sign = mark_shapes(system, PlacedMark(heads[0], PlayedHead(pitch=pitch("F#4"), show_sign=True)))
    assert near.box.left > sign.box.right - 0.2
    assert sign.box.left > printed.right - 0.05


def test_arrows_point_to_where_the_note_came_and_all_signs_clear_it(line):
    system, heads = line
    bottom = max(system.box_of(heads[1]).bottom, system.top_line + 4)
    top = min(system.box_of(heads[1]).top, system.top_line)
    tips = {}
    for early in (True, False):
        shapes = mark_shapes(system, PlacedMark(heads[1], OffTimeMark(early=early)))
        numbers = [float(one) for one in re.findall(r"-?\d+", shapes[1].svg.split('"')[1])]
        tips[early] = min(numbers[::2]) if early else max(numbers[::2])
        assert min(shape.box.top for shape in shapes) > bottom
    assert tips[True] < tips[False]
    (caret,) = mark_shapes(system, PlacedMark(heads[1], MissedMark()))
    assert caret.box.bottom < top
    circle, seconds = slow_shapes(system, heads[1], 2.46)
    assert circle.box.left < system.head_boxes[heads[1]].left
    assert circle.box.right > system.head_boxes[heads[1]].right
    assert ">2.5<" in seconds.svg


def test_a_place_is_written_under_the_staff_as_a_circled_string_and_a_fret(line):
    system, heads = line
    ring, string, fret = mark_shapes(system, PlacedMark(heads[0], PlaceMark(place=Place(3, 10))))
    assert ring.box.top > system.top_line + 4
    assert (">3<" in string.svg, ">10<" in fret.svg) == (True, True)


def test_the_same_mark_is_drawn_the_same_each_time(line):
    system, heads = line
    mark = PlacedMark(heads[0], PlaceMark(place=Place(3, 10)))
    assert mark_shapes(system, mark) == mark_shapes(system, mark)


def test_a_word_on_the_pace_stands_under_the_place_of_its_note(line):
    system, heads = line
    ring, *_ = mark_shapes(system, PlacedMark(heads[0], PlaceMark(place=Place(3, 10))))
    (word,) = mark_shapes(system, PlacedMark(heads[0], PaceMark("ahead")))
    assert ">ahead<" in word.svg
    assert word.box.top > ring.box.bottom - 0.5


def test_a_question_mark_stands_under_its_note(line):
    system, heads = line
    (sign,) = mark_shapes(system, PlacedMark(heads[0], UnsureMark()))
    assert ">?<" in sign.svg
    assert sign.box.top > system.box_of(heads[0]).bottom
