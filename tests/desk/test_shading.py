"""Notes by how quickly they are found."""

import pytest

from game.desk.shading import PALEST, QUICK_S, SLOW_S, shade_of, shaded
from game.practice_log.queries.figure_records import NoteFigures


def figures(written, find_s, *, timed=5, string=3, fret=5):
    return NoteFigures(
        written=written,
        string=string,
        fret=fret,
        read=9,
        clean=8,
        timed=timed if find_s is not None else 0,
        find_s=find_s,
    )


def test_the_shade_goes_from_pale_to_full_as_the_time_goes_from_slow_to_quick():
    assert shade_of(QUICK_S) == shade_of(0.1) == 1.0
    assert shade_of(SLOW_S) == shade_of(99.0) == shade_of(None) == PALEST
    assert shade_of((QUICK_S + SLOW_S) / 2) == pytest.approx(0.5)


def test_each_written_note_stands_there_once_lowest_first_by_the_home_that_was_timed_most():
    notes = shaded(
        [
            figures("C5", 2.0),
            figures("Bb4", 1.0, timed=2),
            figures("Bb4", 2.4, timed=9, string=4),
            figures("A#4", None),
        ],
        ringed=["C5"],
    )
    assert [note.written for note in notes] == ["A#4", "Bb4", "C5"]
    assert notes[1].find_s == 2.4
    assert [note.ringed for note in notes] == [False, False, True]
