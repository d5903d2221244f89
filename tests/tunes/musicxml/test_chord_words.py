"""Chord symbols that a part writes as plain words. What real programs write: signs of music fonts, symbols cut into
pieces, spaces inside.
"""

from xml.etree import ElementTree as ET

import pytest

from game.tunes.musicxml.chord_words import chords_in_words, letters_are_chords


def direction(*pieces: str) -> ET.Element:
    inside = "".join(f"<direction-type><words>{piece}</words></direction-type>" for piece in pieces)
    return ET.fromstring(f"<direction>{inside}</direction>")


def texts(*pieces: str, letters_too=False) -> list[str]:
    return [chord.text for chord in chords_in_words(direction(*pieces), letters_too=letters_too)]


def part(*said: str, more: str = "") -> ET.Element:
    inside = "".join(
        f"<direction><direction-type><words>{words}</words></direction-type></direction>" for words in said
    )
    return ET.fromstring(f"<part><measure>{inside}{more}</measure></part>")


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        ("E7(#5)", "E7(#5)"),
        ("N.C.", "N.C."),
        ("n.c.", "N.C."),
        ("No Chord", "N.C."),
        ("B♭m7/E♭", "Bbm7/Eb"),
        ("A\ue10ddim7", "Abdim7"),
        ("F\ue262m7", "F#m7"),
        ("Bø7", "Bm7b5"),
        ("Eb 7/Bb", "Eb7/Bb"),
        ("Gmi.", "Gmi"),
        ("Cm(ma7)", "Cm(ma7)"),
        ("Eb7+5", "Eb7+5"),
        ("Eb+5", "Eb+5"),
    ],
)
def test_words_that_are_a_chord_symbol_are_read_as_one(words, shown):
    assert texts(words) == [shown]


def test_a_symbol_cut_into_pieces_is_one_and_several_in_one_text_are_several():
    assert texts("F", "♯", "m7") == ["F#m7"]
    assert texts("Dm7 G7") == ["Dm7", "G7"]


@pytest.mark.parametrize(
    "words",
    [
        "Chorus", "CHORUS", "Fine", "D.C. al Fine", "Bridge", "A tempo", "Coda", "Ad lib.", "Dm7 to Coda", "A", "B",
        "A B", "D.S.", "TO TRIO", "Fast Waltz", "E", "Capo 3", "Add bass", "Ending", "", "AB", "Guitar", "Csus tacet",
    ],
)  # fmt: skip
def test_other_words_and_single_letters_are_none(words):
    assert texts(words) == []


def test_a_single_letter_is_a_chord_where_the_part_writes_its_chords_in_words():
    assert texts("G", letters_too=True) == ["G"]
    assert letters_are_chords(part("Am", "G", "F", "E7", "Slowly"))
    assert not letters_are_chords(part("A", "B", "C", "Am"))
    assert not letters_are_chords(part("Am", "G7", "Softly", "Chorus", "Bridge", "Fine"))
    assert not letters_are_chords(part("N.C.", "N.C.", "A"))
    harmony = "<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>"
    assert not letters_are_chords(part("Am", "G", "F", "E7", more=harmony))
