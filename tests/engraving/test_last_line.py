"""A short last line."""

import pytest

from game.engraving.last_line import FULL, filled
from game.engraving.layout import lay_out_page
from game.music.score import BarLine, BarMarks, Reading


def quarters(bar, count):
    return tuple(bar("C5:1 D5:1 E5:1 F5:1", number=str(n + 1)) for n in range(count))


def test_a_short_last_line_is_spaced_like_the_lines_above_it(bar):
    first, second, last = lay_out_page(quarters(bar, 10), Reading.GUITAR, 75).systems
    width = first.bar_ends[1] - first.bar_ends[0]
    assert first.right == second.right
    assert last.right < 0.75 * first.right
    assert last.bar_ends[1] - last.bar_ends[0] == pytest.approx(width, rel=0.12)


def test_nothing_of_the_bars_that_fill_it_is_left_on_the_page(bar):
    bars = quarters(bar, 10)
    page = lay_out_page(bars, Reading.GUITAR, 75)
    assert [index for system in page.systems for index in system.bars] == list(range(10))
    assert {head.bar for system in page.systems for head in system.groups} == set(range(10))
    last = page.systems[-1]
    assert last.right == pytest.approx(max(shape.box.right for shape in last.ground), abs=0.1)


def test_the_final_bar_line_stays_at_the_end_of_the_music(bar):
    bars = quarters(bar, 10)
    *_, last, _ = filled(bars, [10.0] * 10, (4, 8), final_barline=True)[:11]
    assert last.marks.bar_line is BarLine.FINAL
    assert filled(bars, [10.0] * 10, (4, 8), final_barline=False)[9].marks.bar_line is None


def test_a_repeat_sign_at_the_end_stays_one(bar):
    bars = (*quarters(bar, 9), bar("C5:4", marks=BarMarks(repeat_end=2)))
    assert filled(bars, [10.0] * 10, (4, 8), final_barline=True)[9].marks == BarMarks(repeat_end=2)


def test_a_last_line_nearly_as_full_as_the_others_is_spread_over_the_width(bar):
    bars = quarters(bar, 8)
    assert filled(bars, [10.0] * 4 + [10.0 * FULL] * 4, (4,), final_barline=True) == bars


def test_a_single_line_is_never_filled(bar):
    bars = quarters(bar, 2)
    assert filled(bars, [10.0] * 2, (), final_barline=True) == bars
