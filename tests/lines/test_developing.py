"""What a figure becomes when it is taken up."""

from game.lines.developing import INVERTED, SAME, SEQUENCE, TRANSPOSED, figures_from
from tests.lines.test_walk import MIDIS, rules

SOURCE = (69, 70, 72, 69)


def made(kind):
    return [figure.notes for figure in figures_from(SOURCE, kind, rules())]


def test_it_is_itself():
    assert made(SAME) == [SOURCE]


def test_a_sequence_has_the_same_steps_of_the_scale_from_another_note():
    places = [[MIDIS.index(midi) for midi in row] for row in made(SEQUENCE)]
    assert {tuple(place - row[0] for place in row) for row in places} == {(0, 1, 2, 0)}
    assert MIDIS.index(69) not in {row[0] for row in places}


def test_transposed_it_has_the_same_semitones():
    assert {tuple(midi - row[0] for midi in row) for row in made(TRANSPOSED)} == {(0, 1, 3, 0)}


def test_upside_down_it_goes_the_other_way():
    places = [[MIDIS.index(midi) for midi in row] for row in made(INVERTED)]
    assert {tuple(place - row[0] for place in row) for row in places} == {(0, -1, -2, 0)}


def test_a_figure_with_notes_outside_the_scale_has_no_sequence():
    assert list(figures_from((69, 71), SEQUENCE, rules())) == []
