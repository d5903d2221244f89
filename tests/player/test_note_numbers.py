"""The numbers that the notes of a tune have on its pages."""

from game.music.passage import Passage
from game.player.note_numbers import NoteNumbers
from tests.made import score

TIED = score("C4 h, D4 h", "E4 h, F4 h ~", "~F4 h, G4 h", "A4 w")


def test_they_are_those_of_the_pages_wherever_they_begin():
    numbers = NoteNumbers(TIED)
    for start in range(4):
        for stop in range(start + 1, 5):
            page = Passage(score=TIED, start=start, stop=stop)
            assert numbers.count(start, stop) == len(page.notes)
            first, last = numbers.in_whole(page)
            assert last - first + 1 == len(page.notes)
    assert numbers.count(2, 2) == 0


def test_a_note_tied_into_the_first_bar_of_a_page_is_its_first_and_the_next_its_second():
    numbers = NoteNumbers(TIED)
    page, whole = Passage(score=TIED, start=2, stop=4), Passage(score=TIED, start=0, stop=4)
    assert (numbers.struck_from(page, 2), numbers.struck_from(whole, 2)) == (2, 5)
    assert numbers.in_whole(page) == (4, 6)
