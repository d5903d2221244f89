"""Chord symbols that a MusicXML part writes as plain words above the staff ("Gm7", "E7(#5)", "N.C."), as many lead
sheets do where their program's own chord symbols would not serve.

A single letter may as well name a section: it is a chord where the part has no other chord symbols and most of its
words are some (ours).
"""

from fractions import Fraction
from xml.etree.ElementTree import Element

from game.music.chords import ChordSymbol
from game.text.clean_text import cleaned
from game.tunes.abc.chord_text import chord_of
from game.tunes.musicxml.harmony import ascii_signs
from game.tunes.musicxml.page_signs import section_of

_LONGEST = 60
_MOST_IN_ONE_TEXT = 8
_LEAST_SURE = 2


def chords_in_words(direction: Element, *, letters_too: bool) -> tuple[ChordSymbol, ...]:
    """The chord symbols that all the words of one direction come to, without places; none where they are anything else.

    `letters_too` takes a single letter for a chord.
    """
    text = "" if section_of(direction) else _text_of(direction)
    whole = _symbol(text.replace(" ", "")) if text else None
    symbols = [whole] if whole else [_symbol(word) for word in text.split()[:_MOST_IN_ONE_TEXT]]
    chords = tuple(symbol for symbol in symbols if symbol)
    if len(chords) != len(symbols) or (not letters_too and all(_is_letter(chord) for chord in chords)):
        return ()
    return chords


def letters_are_chords(part: Element) -> bool:
    """Whether a single letter among the words of this part is a chord symbol."""
    if part.find("measure/harmony") is not None:
        return False
    said = [direction for direction in part.iterfind("measure/direction") if _text_of(direction)]
    chords = [chord for direction in said for chord in chords_in_words(direction, letters_too=True)]
    sure = sum(not _is_letter(chord) and bool(chord.root) for chord in chords)
    return sure >= _LEAST_SURE and 2 * len(chords) > len(said)


def _text_of(direction: Element) -> str:
    """One symbol may be cut into several pieces of text, a letter and its sign."""
    pieces = (piece.text or "" for piece in direction.iterfind("direction-type/words"))
    # Cut first: nobody reads megabytes for a symbol.
    return cleaned(ascii_signs("".join(pieces)[: 2 * _LONGEST]), _LONGEST)


def _symbol(word: str) -> ChordSymbol | None:
    if word.casefold() in {"nochord", "n.c.", "nc", "n.c"}:
        word = "N.C."
    symbol = chord_of(word, Fraction(0))
    if symbol is None and word.endswith("."):
        symbol = chord_of(word[:-1], Fraction(0))
    return symbol


def _is_letter(chord: ChordSymbol) -> bool:
    return len(chord.text) == 1
