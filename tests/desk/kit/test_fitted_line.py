"""A line of text in its room."""

from game.desk.kit.canvas import Style
from game.desk.kit.fitted_line import SMALLEST, fitted
from game.desk.typography import Face


def style(canvas):
    return Style(Face.TEXT, 26, canvas.theme.ink)


def test_what_has_room_stays_as_it_is(canvas):
    assert fitted(canvas, "day", style(canvas), 300) == ("day", style(canvas))


def test_what_is_too_wide_is_set_smaller_and_stays_whole(canvas):
    text = "is marked, and the page goes on"
    width = canvas.width_of(text, style(canvas)) * 0.9
    shown, smaller = fitted(canvas, text, style(canvas), width)
    assert shown == text
    assert SMALLEST <= smaller.size < 26
    assert canvas.width_of(shown, smaller) <= width


def test_only_what_is_wider_at_the_least_size_is_cut_and_says_so(canvas):
    shown, smallest = fitted(canvas, "USB MIDI Interface " * 9, style(canvas), 300)
    assert smallest.size == SMALLEST
    assert shown.endswith("…")
    assert canvas.width_of(shown, smallest) <= 301
