"""Where the clock of a take is in its music."""

from fractions import Fraction

from game.practice.click_places import bar_starts, one_a_click, place_on_page
from tests.made import passage

LINE = passage("F4 h, G4 q, A4 q", "Bb4 w")


def test_bars_start_one_after_another_and_the_last_ends():
    assert bar_starts(LINE) == (0, 4, 8)


def test_with_one_note_a_click_notes_are_a_quarter_apart_whatever_their_length():
    notes = one_a_click(LINE.notes)
    assert [(note.onset, note.length) for note in notes] == [(index, Fraction(1)) for index in range(4)]


def test_the_page_goes_from_notehead_to_notehead_with_the_clicks():
    assert [place_on_page(LINE.notes, click) for click in (-1.0, 0.0, 0.5, 1.0, 3.0, 9.0)] == [-1, 0, 1, 2, 4, 5]
