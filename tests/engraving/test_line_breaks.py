"""Where the lines of a still page begin."""

from game.engraving.layout import lay_out_line
from game.engraving.line_breaks import BARS_A_LINE, bar_widths, system_starts
from game.music.score import BarLine, BarMarks, Reading


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


def test_a_double_bar_ends_a_line_where_that_costs_nothing(bar):
    plain, end = bar("C5:1 D5:1 E5:1 F5:1"), bar("C5:1 D5:1 E5:1 F5:1", marks=BarMarks(bar_line=BarLine.DOUBLE))
    assert _starts((plain,) * 2 + (end,) + (plain,) * 4, 200) == (3,)


def test_a_line_too_narrow_for_any_bar_holds_one(bar):
    assert _starts((bar("C5:1 D5:1 E5:1 F5:1"),) * 3, 1) == (1, 2)
