"""A drill is known by its title, in a log as in a file."""

from random import Random

from game.lines.single_notes import single_notes
from game.music.drill_title import is_drill_title
from game.music.keys import Key
from game.neck.neck_map import standard_map


def test_a_row_of_single_notes_is_a_drill_and_no_tune_is():
    row = single_notes(standard_map(), key=Key(-2), bars=2, rng=Random(1))
    assert is_drill_title(row.title)
    assert not is_drill_title("Notes of Single Malt")
