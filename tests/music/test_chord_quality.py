"""The tones of chord symbols, beside music21's own pitches and a table from handbooks."""

import pytest

from game.music.chord_quality import degrees_of
from game.tunes.musicxml.harmony import SHORT_FORMS
from tests.music.made_chords import NAMES, named, symbol

NOT_AS_MUSIC21 = {"Neapolitan"}
"""music21 has C, D flat, E and G flat for it, which no handbook knows."""

BY_HANDBOOK = {
    "C7(b9)": "C Db E G Bb",
    "C7b9": "C Db E G Bb",
    "C7-9": "C Db E G Bb",
    "C7#9": "C Eb E G Bb",
    "C7(b9,#9)": "C Db Eb E G Bb",
    "C7#5b9": "C Db E Ab Bb",
    "C7+5": "C E Ab Bb",
    "C7#11": "C E Gb G Bb",
    "C9#11": "C D E Gb G Bb",
    "C13b9": "C Db E G A Bb",
    "C7b13": "C E G Ab Bb",
    "C7alt": "C Db Eb E Ab Bb",
    "C+7": "C E Ab Bb",
    "C-7": "C Eb G Bb",
    "Cm#5": "C Eb Ab",
    "Cm(maj7)": "C Eb G B",
    "CmMaj9": "C D Eb G B",
    "Cm7b5": "C Eb Gb Bb",
    "Cø": "C Eb Gb Bb",
    "C°7": "C Eb Gb A",
    "Cm9(b5)": "C D Eb Gb Bb",
    "C6/9": "C D E G A",
    "C69": "C D E G A",
    "Cm69": "C D Eb G A",
    "Cadd9": "C D E G",
    "C(add9)": "C D E G",
    "C(add4)": "C E F G",
    "C2": "C D E G",
    "C4": "C F G",
    "Csus": "C F G",
    "Csus2": "C D G",
    "C7sus4": "C F G Bb",
    "C9sus": "C D F G Bb",
    "C13sus4": "C D F G A Bb",
    "Cmaj7sus4": "C F G B",
    "C5": "C G",
    "C(no3)": "C G",
    "C7(no5)": "C E Bb",
    "C13": "C D E G A Bb",
    "Cmaj13": "C D E G A B",
    "C7(13)": "C D E G A Bb",
    "C79": "C D E G Bb",
}
"""How handbooks spell what lead sheets write (from memory); the text alone is read, without a kind."""


def names_of(one) -> set[str]:
    return set(named(tuple(tone for tones in degrees_of(one).values() for tone in tones)).split())


def music21_kinds() -> list[str]:
    from music21.harmony import CHORD_TYPES

    return [*CHORD_TYPES, "dominant", "half-diminished", "major-minor"]


def test_every_kind_has_the_pitches_that_music21_gives_it():
    """music21 (PyPI), from root and kind: all of its own kinds and MusicXML's names for them."""
    from music21.harmony import ChordSymbol

    other = set()
    for kind in music21_kinds():
        theirs = {NAMES[pitch.pitchClass] for pitch in ChordSymbol(root="C", kind=kind).pitches}
        if names_of(symbol("C", kind=kind)) != theirs:
            other.add(kind)
    assert other == NOT_AS_MUSIC21


def test_a_neapolitan_is_the_major_triad_on_the_flat_second():
    assert names_of(symbol("CN6", kind="Neapolitan")) == {"Db", "F", "Ab"}


@pytest.mark.parametrize("kind", sorted(set(SHORT_FORMS) - {"none", "other", "Neapolitan"}))
def test_a_kind_of_musicxml_sounds_the_same_with_its_short_form_and_without(kind):
    assert names_of(symbol("C" + SHORT_FORMS[kind], kind=kind)) == names_of(symbol("C", kind=kind))


@pytest.mark.parametrize(("text", "tones"), BY_HANDBOOK.items())
def test_a_text_alone_is_read_as_handbooks_have_it(text, tones):
    """As of a kind that nobody knows."""
    from game.tunes.musicxml.harmony import ascii_signs

    assert names_of(symbol(ascii_signs(text), kind="dominant-moonlight")) == set(tones.split())


@pytest.mark.parametrize(
    ("kind", "text", "tones"),
    [
        ("dominant", "C7(b9)", "C Db E G Bb"),
        ("dominant-ninth", "C9#5", "C D E Ab Bb"),
        ("dominant-13th", "C13b9", "C Db E F G A Bb"),
        ("minor-seventh", "Cm7(b5)", "C Eb Gb Bb"),
        ("suspended-fourth", "C9sus", "C D F G Bb"),
        ("major-sixth", "C69", "C D E G A"),
        ("minor", "Cm#7", "C Eb G B"),
        ("major", "C(add9)", "C D E G"),
        ("diminished", "Cdim7", "C Eb Gb A"),
        ("other", "C(b3,add5,b7)", "C Eb G Bb"),
        ("other", "C7alt", "C Db Eb E Ab Bb"),
        ("other", "C", "C E G"),
    ],
)
def test_what_the_text_alters_or_adds_is_taken_from_its_kind(kind, text, tones):
    assert names_of(symbol(text, kind=kind)) == set(tones.split())


def test_no_chord_has_no_tones_and_a_text_of_another_chord_is_passed_over():
    assert degrees_of(symbol("N.C.")) == {}
    assert names_of(symbol("Gm7b5", kind="major")) == {"C", "E", "G"}
