"""Room for chord symbols between the notes."""

from fractions import Fraction
from itertools import pairwise

import pytest

from game.engraving.chord_room import with_room_for_chords
from game.engraving.engraver import EngravedFace
from game.engraving.layout import lay_out_line
from game.engraving.shapes import TextExtent, TextKind
from game.music.chords import ChordSymbol
from game.music.score import Reading


def four_symbols(bar):
    chords = tuple(ChordSymbol(onset=Fraction(beat), root="B", kind="major", text="B") for beat in range(4))
    return (bar("C5:1 D5:1 E5:1 F5:1", chords=chords),) * 3


@pytest.mark.parametrize("width", [2.0, 5.0, 9.0, 17.0])
@pytest.mark.parametrize("face", EngravedFace)
def test_notes_stand_so_far_apart_that_symbols_of_any_width_fit_side_by_side(bar, width, face):
    """Within the bar and over the bar line; verovio's own measure of its letters is what is used."""
    line = lay_out_line(
        four_symbols(bar), Reading.GUITAR, face, measure=lambda *_: TextExtent(width, 1.0, 0.0)
    ).systems[0]
    chords = [text for text in line.texts if text.kind is TextKind.CHORD]
    assert len({text.baseline for text in chords}) == 1
    gaps = [after.box.left - before.box.right for before, after in pairwise(chords)]
    assert min(gaps) >= 0.7
    assert min(gaps) <= 1.6 or width == 2.0


def test_bars_without_chords_are_left_as_they_are(bar):
    bars = (bar("C5:4"),)
    assert with_room_for_chords(bars, lambda *_: TextExtent(9.0, 1.0, 0.0)) == bars
