"""Chord symbols out of plain text."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.tunes.abc.chord_text import chord_of
from tests.tunes.abc.hand_written_abc import abc_score

CHORDS = [
    ("Am7", "A", "minor-seventh", ""), ("Bb7", "Bb", "dominant", ""), ("C-7", "C", "minor-seventh", ""),
    ("Bm7b5", "B", "half-diminished", ""), ("F#maj7", "F#", "major-seventh", ""), ("G7/B", "G", "dominant", "B"),
    ("Ebm(maj7)", "Eb", "major-minor", ""), ("G7(b9)", "G", "dominant", ""), ("D7sus4", "D", "suspended-fourth", ""),
    ("C6/9", "C", "major-sixth", ""), ("F", "F", "major", ""), ("Adim7", "A", "diminished-seventh", ""),
    ("A+", "A", "augmented", ""), ("Cadd9", "C", "major", ""), ("Dm9", "D", "minor-ninth", ""),
    ("D/f+", "D", "major", "F#"), ("Am7/g", "A", "minor-seventh", "G"), ("Gm/bb", "G", "minor", "Bb"),
    ("Gmi7(b5)", "G", "half-diminished", ""), ("Eb+5", "Eb", "augmented", ""), ("Cm(ma7)", "C", "major-minor", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "root", "kind", "bass"), CHORDS)
def test_chord_symbols_are_read_by_root_kind_and_bass(text, root, kind, bass):
    """Kinds are MusicXML's `kind-value`."""
    (chord,) = abc_score(f'C2 "{text}"D2').bars[0].chords
    assert (chord.root, chord.kind, chord.bass, chord.onset) == (root, kind, bass, 2)


@pytest.mark.parametrize("text", ["4", "Slow", "^Am", "End", "Ad lib.", "Collected", "tr", "Bb?"])
def test_other_words_are_no_chords(text):
    """Fingerings and remarks stand between the same quotes."""
    assert abc_score(f'"{text}"C4').bars[0].chords == ()


@pytest.mark.parametrize(
    ("text", "shown", "kind"),
    [
        ("N.C.", "N.C.", "none"), ("NC", "N.C.", "none"), ("C6/9", "C69", "major-sixth"),
        ("B♭△7", "Bbmaj7", "major-seventh"),
        ("D/f+", "D/F#", "major"), ("Bø7", "Bm7b5", "half-diminished"),
        ("Cø", "Cm7b5", "half-diminished"), ("  Dm7 ", "Dm7", "minor-seventh"), ("Gsus2", "Gsus2", "suspended-second"),
        ("Galt", "Galt", "dominant"),
        ("Am7(b5)", "Am7(b5)", "half-diminished"), ("E7(#9,b13)", "E7(#9,b13)", "dominant"),
    ],
)  # fmt: skip
def test_it_is_shown_in_ascii_as_it_is_written(text: str, shown: str, kind: str):
    chord = chord_of(text, Fraction(3, 2))
    assert chord is not None
    assert (chord.text, chord.kind, chord.onset) == (shown, kind, Fraction(3, 2))


@given(st.text(max_size=30))
def test_any_other_text_is_none_or_begins_with_its_root(text: str):
    chord = chord_of(text, Fraction(0))
    assert chord is None or chord.text.startswith(chord.root)
