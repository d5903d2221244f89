"""Where the lines of a still page begin."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.engraving.layout import lay_out_line
from game.engraving.line_breaks import BARS_A_LINE, bar_widths, system_starts
from game.music.chords import ChordSymbol
from game.music.score import BarLine, BarMarks, Jump, Reading


def _starts(bars, width):
    return system_starts(lay_out_line(bars, Reading.GUITAR).systems[0], bars, width)


def test_four_bars_stand_on_a_line_where_they_fit(bar):
    bars = (bar("C5:1 D5:1 E5:1 F5:1"),) * 8
    assert _starts(bars, 200) == (4,)


def test_a_pickup_bar_does_not_count_towards_the_four(bar):
    bars = (bar("C5:1", pickup=True), *(bar("C5:1 D5:1 E5:1 F5:1"),) * 8)
    assert _starts(bars, 200) == (5,)


def test_dense_bars_stand_fewer_on_a_line(bar):
    bars = (bar(" ".join(["C5:1/4 C#5:1/4 D5:1/4 D#5:1/4"] * 4)),) * 4
    assert len(_starts(bars, 100)) >= 1
    widths = bar_widths(lay_out_line(bars, Reading.GUITAR).systems[0])
    assert len(widths) == 4
    assert all(width > 0 for width in widths)


def test_the_last_line_is_not_left_with_one_bar(bar):
    """The line before takes it in where there is room, otherwise it gives one away."""
    bars = (bar("C5:1 D5:1 E5:1 F5:1"),) * 9
    assert _starts(bars, 200) == (4,)
    five_are_too_wide = 4.5 * bar_widths(lay_out_line(bars, Reading.GUITAR).systems[0])[1]
    assert _starts(bars, five_are_too_wide) == (4, 7)
    assert BARS_A_LINE == 4


def test_a_section_begins_a_line_though_the_line_before_has_a_bar_more_or_less(bar):
    plain, chorus = bar("C5:1 D5:1 E5:1 F5:1"), bar("C5:1 D5:1 E5:1 F5:1", marks=BarMarks(section="Chorus"))
    assert _starts((plain,) * 5 + (chorus,) + (plain,) * 3, 200) == (5,)
    assert _starts((plain,) * 7 + (chorus,) + (plain,) * 3, 200) == (4, 7)


def test_a_double_bar_ends_a_line_though_that_line_has_a_bar_more_or_less(bar):
    plain, end = bar("C5:1 D5:1 E5:1 F5:1"), bar("C5:1 D5:1 E5:1 F5:1", marks=BarMarks(bar_line=BarLine.DOUBLE))
    assert _starts((plain,) * 2 + (end,) + (plain,) * 4, 200) == (3,)
    assert _starts((plain,) * 8 + (end,) + (plain,) * 8, 200) == (4, 9, 13)


def test_one_bar_behind_the_last_repeat_sign_stands_beside_it(bar):
    plain, end = bar("C5:1 D5:1 E5:1 F5:1"), bar("C5:1 D5:1 E5:1 F5:1", marks=BarMarks(repeat_end=2))
    assert _starts((plain,) * 7 + (end, plain), 200) == (4,)


def test_an_intro_of_six_bars_is_two_lines_of_three(bar):
    plain, end = bar("C5:1 D5:1 E5:1 F5:1"), bar("C5:1 D5:1 E5:1 F5:1", marks=BarMarks(bar_line=BarLine.DOUBLE))
    assert _starts((plain,) * 5 + (end,) + (plain,) * 8, 200) == (3, 6, 10)


@pytest.mark.parametrize("marks", [BarMarks(repeat_start=True), BarMarks(coda=True)])
def test_an_opening_sign_and_the_coda_begin_a_line(bar, marks):
    plain, new = bar("C5:1 D5:1 E5:1 F5:1"), bar("C5:1 D5:1 E5:1 F5:1", marks=marks)
    assert _starts((plain,) * 9 + (new,) + (plain,) * 7, 200) == (4, 9, 13)


def test_what_stands_behind_a_jump_begins_a_line(bar):
    plain, jump = bar("C5:1 D5:1 E5:1 F5:1"), bar("C5:1 D5:1 E5:1 F5:1", marks=BarMarks(jump=Jump.DA_CAPO))
    assert _starts((plain,) * 8 + (jump,) + (plain,) * 4, 200) == (4, 9)


def test_a_pickup_written_out_with_rests_does_not_count_towards_the_four(bar):
    full, chord = bar("C5:1 D5:1 E5:1 F5:1"), ChordSymbol(onset=Fraction(0), root="C", kind="major", text="C")
    assert _starts((bar("R:2 R:1 C5:1"),) + (full,) * 8, 200) == (5,)
    assert _starts(
        (bar("R:1 C5:1 D5:1 E5:1"), replace(full, marks=BarMarks(repeat_start=True))) + (full,) * 7, 200
    ) == (5,)
    assert _starts((bar("R:1 C5:1 D5:1 E5:1"),) + (full,) * 7, 200) == (4,)
    assert _starts((bar("R:2 C5:2", chords=(chord,)),) + (full,) * 7, 200) == (4,)
    assert _starts((bar("W:4"),) + (full,) * 7, 200) == (4,)


def test_a_line_too_narrow_for_any_bar_holds_one(bar):
    assert _starts((bar("C5:1 D5:1 E5:1 F5:1"),) * 3, 1) == (1, 2)
