"""Chord symbols out of their text, and rows of them as places to voice."""

from fractions import Fraction

from game.music.bass_notes import bass_note
from game.music.chord_tones import ChordTones, tones_of
from game.music.chords import ChordSymbol
from game.music.voicing import ChordPlace
from game.tunes.abc.chord_text import chord_of


def symbol(text: str, *, kind: str | None = None) -> ChordSymbol:
    """The symbol a text is read as, or one of C with this `kind` and text."""
    if kind is not None:
        return ChordSymbol(onset=Fraction(0), root="C", kind=kind, text=text)
    found = chord_of(text, Fraction(0))
    assert found is not None, text
    return found


def tones(text: str) -> ChordTones:
    """What sounds of a text."""
    found = tones_of(symbol(text))
    assert found is not None, text
    return found


def places(row: str, *, melody: int | None = None) -> list[ChordPlace]:
    """A row of chord symbols, each over its own bass and under one melody note."""
    chords = [tones(text) for text in row.split()]
    return [ChordPlace(telling=one.telling, bass=bass_note(one.bass), melody=melody) for one in chords]


NAMES = "C Db D Eb E F Gb G Ab A Bb B".split()


def named(pitches: tuple[int, ...]) -> str:
    """Pitches or pitch classes by letter, flats throughout."""
    return " ".join(NAMES[pitch % 12] for pitch in pitches)
