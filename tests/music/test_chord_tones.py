"""What an accompanist takes from a chord symbol."""

import pytest

from game.music.chord_tones import tones_of
from tests.music.made_chords import named, symbol, tones


@pytest.mark.parametrize(
    ("text", "telling"),
    [
        ("F", "A C F"),
        ("Fm", "Ab C F"),
        ("F7", "A Eb C"),
        ("Fmaj7", "A E C"),
        ("Fm7b5", "Ab Eb B"),
        ("Fdim7", "Ab D B"),
        ("F6", "A D C"),
        ("F9", "A Eb G"),
        ("Fm11", "Ab Eb Bb"),
        ("F13", "A Eb D"),
        ("F7b9", "A Eb Gb"),
        ("F7#5", "A Eb Db"),
        ("F7sus4", "Bb Eb C"),
        ("F5", "C F"),
    ],
)
def test_three_tones_tell_a_chord_guide_tones_first(text, telling):
    assert named(tones(text).telling) == telling


def test_beside_a_natural_eleventh_the_major_third_is_left_out():
    assert named(tones("F11").telling) == "Eb Bb G"


def test_what_a_written_bass_has_is_said_by_the_chord_last_and_its_root_is_not_lost():
    assert named(tones("C/E").telling) == "C G E"
    assert named(tones("C7/E").telling) == "Bb C G"
    assert named(tones("Am7/D").telling) == "C G A"
    assert (tones("Am7/D").bass, tones("Am7/D").root) == (2, 9)


def test_third_and_fifth_are_the_chords_own():
    found = tones("Bm7b5")
    assert named((found.root, found.third, found.fifth)) == "B D F"
    assert named((tones("Gsus4").third,)) == "C"
    assert tones("G5").third == tones("G5").root


def test_a_pedal_is_bass_alone_and_no_chord_is_silence():
    pedal = tones_of(symbol("C", kind="pedal"))
    assert pedal is not None
    assert (pedal.bass, pedal.telling) == (0, ())
    assert tones_of(symbol("N.C.")) is None


def test_every_kind_that_music21_knows_is_told_by_tones_of_its_own_and_keeps_its_third_and_seventh():
    """music21 (PyPI) says which pitches a kind has; a fourth or second stands in for the third where it has none."""
    from music21.harmony import CHORD_TYPES, ChordSymbol

    for kind in CHORD_TYPES:
        chord, ours = ChordSymbol(root="C", kind=kind), tones_of(symbol("C", kind=kind))
        assert ours is not None
        theirs = {pitch.pitchClass for pitch in chord.pitches}
        if kind == "Neapolitan":
            continue
        assert set(ours.telling) <= theirs, kind
        assert len(ours.telling) == min(3, len(theirs) if len(theirs) > 1 else 0), kind
        if kind in {"dominant-11th", "major-11th", "augmented-11th", "augmented-major-11th"}:
            continue  # Without their third, as is said above.
        guides = {3, 4} & theirs, {9, 10, 11} & theirs
        assert all(not guide or guide & set(ours.telling) for guide in guides), kind
