"""What the page shows: how long values are, what a bar holds, how the page sounds."""

from fractions import Fraction

import pytest

from game.music.clef import Clef
from game.music.score import NoteValue, Reading, Tuplet
from tests.made import bar

TYPES = {8: "breve", 4: "whole", 2: "half", 1: "quarter", Fraction(1, 2): "eighth", Fraction(1, 32): "128th"}


@pytest.mark.parametrize("base", TYPES)
@pytest.mark.parametrize("dots", [0, 1, 2, 3])
def test_dotted_values_are_as_long_as_music21_says(base, dots):
    """music21 `Duration` as the reference library."""
    from music21.duration import Duration

    reference = Duration(TYPES[base], dots=dots)
    assert float(NoteValue(base=Fraction(base), dots=dots).length) == reference.quarterLength


@pytest.mark.parametrize(("actual", "normal"), [(3, 2), (2, 3), (5, 4), (7, 4)])
def test_tuplets_are_as_long_as_music21_says(actual, normal):
    """So many notes in the time of so many (MusicXML 4.0 `time-modification`)."""
    from music21.duration import Duration
    from music21.duration import Tuplet as ReferenceTuplet

    reference = Duration("eighth")
    reference.appendTuplet(ReferenceTuplet(actual, normal, "eighth"))
    value = NoteValue(base=Fraction(1, 2), tuplet=Tuplet(actual=actual, normal=normal))
    assert value.length == Fraction(reference.quarterLength)
    assert actual * value.length == normal * Fraction(1, 2)


def test_a_bar_tells_its_noteheads_without_the_rests():
    """Grace notes are noteheads too."""
    assert [note.pitch.name for note in bar("gB4 e, A4 q, r q, C5 h").notes] == ["B4", "A4", "C5"]


def test_guitar_and_bass_sound_an_octave_below_the_page_and_the_bass_reads_in_its_own_clef():
    """MusicXML 4.0 `clef-octave-change` -1; trade."""
    assert {reading: (reading.clef, reading.octaves_down) for reading in Reading} == {
        Reading.GUITAR: (Clef.TREBLE, 1),
        Reading.CONCERT: (Clef.TREBLE, 0),
        Reading.BASS: (Clef.BASS, 1),
        Reading.CONCERT_BASS: (Clef.BASS, 0),
    }
