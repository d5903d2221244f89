"""The brackets of endings."""

from dataclasses import replace

import pytest

from game.engraving.ending_brackets import ending_label, place_brackets
from game.engraving.layout import lay_out_page
from game.engraving.shapes import System, TextExtent, TextKind
from game.engraving.skyline import Skyline
from game.music.score import BarMarks, Reading
from tests.engraving.touching import touch

FIRST = BarMarks(endings=(1,), ending_starts=True)
GOES_BACK = BarMarks(endings=(1,), ending_stops=True, repeat_end=2)
SECOND = BarMarks(endings=(2,), ending_starts=True, ending_stops=True)


def placed(bars, indices=None):
    """The bars, ten spaces each, on a line that begins with the first of `indices`."""
    indices = list(range(len(bars))) if indices is None else indices
    right = 10.0 * len(indices)
    system = System(top_line=10.0, right=right, bars=indices, bar_ends=[10.0 * (n + 1) for n in range(len(indices))])
    place_brackets(system, bars, lambda *_: TextExtent(1.0, 1.0, 0.0), Skyline(0.0, right, 9.6))
    strokes = [shape.box for shape in system.ground]
    level = [box for box in strokes if box.right - box.left > 1]
    upright = sorted(box.left for box in strokes if box.bottom - box.top > 1)
    return system.texts, sorted(level, key=lambda box: box.left), upright


def test_a_first_ending_is_turned_down_at_both_ends_and_a_last_one_is_open(bar):
    bars = tuple(bar("C5:4", marks=marks) for marks in (FIRST, GOES_BACK, SECOND))
    texts, (first, second), upright = placed(bars)
    assert [text.text for text in texts] == ["1.", "2."]
    assert (first.left, second.left) == (0.0, 20.0)
    assert first.right < second.left
    assert len(upright) == 3
    assert first.top == second.top


def test_an_ending_that_goes_on_from_the_line_before_says_so_and_is_open_at_its_left(bar):
    bars = tuple(bar("C5:4", marks=marks) for marks in (FIRST, GOES_BACK))
    texts, _, upright = placed(bars, [1])
    assert [text.text for text in texts] == ["(1.)"]
    assert upright == [pytest.approx(9.6, abs=0.3)]


def test_a_bracket_whose_number_is_wider_than_its_bars_lifts_the_next_one(bar):
    bars = tuple(bar("C5:4", marks=marks) for marks in (replace(GOES_BACK, ending_starts=True), SECOND))
    system = System(top_line=10.0, right=40.0, bars=[0, 1], bar_ends=[2.0, 40.0])
    place_brackets(system, bars, lambda *_: TextExtent(5.0, 1.0, 0.0), Skyline(0.0, 40.0, 9.6))
    first, second = system.texts
    assert second.box.bottom < first.box.top
    assert not any(touch(text.box, shape.box) for text in system.texts for shape in system.ground)


@pytest.mark.parametrize(
    ("numbers", "label"), [((1,), "1."), ((1, 2), "1, 2."), ((1, 2, 3), "1–3."), ((1, 3, 4), "1, 3, 4.")]
)
def test_numbers_of_an_ending_are_said_shortly(numbers, label):
    assert ending_label(numbers) == label


def test_an_ending_broken_over_two_lines_has_a_bracket_on_both(bar):
    marks = (BarMarks(),) * 3 + (FIRST, BarMarks(endings=(1,)), GOES_BACK, SECOND)
    bars = tuple(bar("C5:1 D5:1 E5:1 F5:1", marks=one, number=str(n)) for n, one in enumerate(marks, start=1))
    systems = lay_out_page(bars, Reading.GUITAR, 50).systems
    assert len(systems) > 1
    assert [text.text for system in systems for text in system.texts if text.kind is TextKind.ENDING] == [
        "1.",
        "(1.)",
        "2.",
    ]
