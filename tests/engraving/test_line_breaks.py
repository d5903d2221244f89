"""Where the lines of a still page begin."""

from game.engraving.layout import lay_out_line
from game.engraving.line_breaks import BARS_A_LINE, bar_widths, system_starts
from game.music.score import Reading


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
    bars = (bar("C5:1 D5:1 E5:1 F5:1"),) * 9
    assert _starts(bars, 200) == (4, 7)
    assert BARS_A_LINE == 4


def test_a_line_too_narrow_for_any_bar_holds_one(bar):
    assert _starts((bar("C5:1 D5:1 E5:1 F5:1"),) * 3, 1) == (1, 2)
