"""A staff is as large as its notes let it be, in every clef."""

import pytest

from game.music.pitch import pitch
from game.music.score import Reading
from game.screens.setup.fitted_staff import fitted_staff


@pytest.mark.parametrize("reading", list(Reading))
@pytest.mark.parametrize("names", [(), ("E3", "C7"), ("F4",), ("C2", "E2")])
def test_its_lines_and_all_notes_lie_in_the_room(reading, names):
    notes = [pitch(name) for name in names]
    staff = fitted_staff(notes, reading, ends=(70, 500), between=(100, 200), most_space=12)
    heights = [staff.top, staff.bottom, *(staff.y_of_step(note.staff_step) for note in notes)]
    assert 100 <= min(heights) <= max(heights) <= 200
    assert 0 < staff.space <= 12


def test_where_there_is_room_it_is_as_large_as_it_may_be():
    assert fitted_staff([], Reading.GUITAR, ends=(70, 500), between=(100, 300), most_space=12).space == 12
