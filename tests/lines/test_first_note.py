"""The first note: the C in the third space, whose home is the fifth fret of the third string."""

import pytest

from game.lines.first_note import FIRST_HOME, FIRST_NOTE, first_note_score, has_first_note
from game.music.drill_title import is_drill_title
from game.music.passage import whole_tune
from game.music.score import Reading
from game.music.written import written_out
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, Place, tuning_named


def test_it_is_one_note_and_no_tune():
    (note,) = whole_tune(written_out(first_note_score())).notes
    assert note.pitch == FIRST_NOTE
    # C5 as the guitar writes it sounds as middle C, MIDI number 60 (trade).
    assert note.sounding == 60 == STANDARD.sounding(FIRST_HOME)
    assert is_drill_title(first_note_score().title)


def test_the_map_of_one_who_chose_nothing_has_it_there():
    assert has_first_note(standard_map())


@pytest.mark.parametrize(
    "other",
    [
        standard_map(position=7),
        standard_map(tuning=tuning_named("whole-step-down")),
        standard_map(reading=Reading.CONCERT),
        standard_map(choices={60: Place(2, 1)}),
    ],
)
def test_another_map_may_not(other):
    assert not has_first_note(other)
