"""The octave of a keyboard player, told from the first notes."""

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.octave import lowered, octaves_above

LINE = [53, 55, 57, 58, 60, 62, 64, 65]


@pytest.mark.parametrize("octaves", [-2, -1, 0, 1, 2])
def test_a_line_played_in_another_octave_is_recognised(octaves):
    assert octaves_above(LINE, [sounding + 12 * octaves for sounding in LINE]) == octaves


def test_one_note_an_octave_off_does_not_move_the_line():
    assert octaves_above(LINE, [LINE[0] + 12, *LINE[1:]]) == 0


def test_wrong_notes_in_between_do_not_hide_the_octave():
    assert octaves_above(LINE, [65, 67, 66, 70, 72, 73, 76, 77]) == 1


def test_a_line_of_other_notes_says_nothing():
    assert octaves_above(LINE, [50, 51, 52, 53]) == 0
    assert octaves_above(LINE, []) == 0


def test_lowering_keeps_everything_else():
    note = PlayedNote(started_s=1.5, sounding=72, place=None, velocity=3, source="k")
    assert lowered([note], 1) == (PlayedNote(started_s=1.5, sounding=60, place=None, velocity=3, source="k"),)
