"""The chord symbols of a checked MusicXML part, bar by bar, each in its place.

A symbol stands at the writing position, moved by its `offset` (MusicXML 4.0). Several before one note without offsets
are how many programs write two chords on a whole note: they share it (`game.tunes.chord_places`).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import groupby
from operator import attrgetter
from xml.etree.ElementTree import Element

from game.music.chords import ChordSymbol
from game.music.score import Bar
from game.text.clean_text import cleaned
from game.tunes.chord_places import beats_ahead, chords_kept_inside, shared_places, with_late_chords
from game.tunes.left_out import LeftOut
from game.tunes.musicxml.bar_times import BarTimes, advance_of, bar_times
from game.tunes.musicxml.chord_words import chords_in_words, letters_are_chords
from game.tunes.musicxml.harmony import chord_of_harmony

_MOST_A_BAR = 32
_onset = attrgetter("onset")


def with_chords(bars: Sequence[Bar], part: Element, left_out: LeftOut) -> tuple[Bar, ...]:
    """The bars of a part with its chord symbols; `left_out` hears what was guessed and left out, by printed numbers."""
    letters_too = letters_are_chords(part)
    filled = [
        replace(bar, chords=_BarChords(bar, left_out, letters_too=letters_too).read(times)[:_MOST_A_BAR])
        for bar, times in zip(bars, bar_times(part), strict=True)
    ]
    return chords_kept_inside(filled, left_out)


class _BarChords:
    """Walks the elements of one bar; what stands before a note waits until it is known how long that is."""

    def __init__(self, bar: Bar, left_out: LeftOut, *, letters_too: bool) -> None:
        self._bar = bar
        self._left_out = left_out
        self._letters_too = letters_too
        self._waiting: list[ChordSymbol] = []
        self._waiting_words: list[ChordSymbol] = []

    def read(self, times: BarTimes) -> tuple[ChordSymbol, ...]:
        """In order of their places; the same symbol twice in one place is one. What is written behind the last note
        is meant for it: so programs write what was put on the page afterwards.
        """
        length = self._bar.length
        met = [chord for now, divisions, element in times.elements for chord in self._met(element, now, divisions)]
        left = list(self._placed(length))
        in_order = sorted(dict.fromkeys([*met, *(chord for chord in left if chord.onset < length)]), key=_onset)
        inside = [chord for chord in in_order if chord.onset < length]
        late = [chord for chord in left if chord.onset >= length]
        if late:
            self._left_out.add("tune.chords_beyond_bar", self._bar.number)
        beyond = [chord for chord in in_order if chord.onset >= length]
        return (*with_late_chords(self._bar, inside, late), *beyond)

    def _met(self, element: Element, now: Fraction, divisions: Fraction) -> Iterator[ChordSymbol]:
        """The symbols that have a place now: by their own offset, or because it is known how long this note is."""
        chords: tuple[ChordSymbol, ...] = ()
        waiting = self._waiting
        if element.tag == "harmony":
            chords = self._of_harmony(element)
        elif element.tag == "direction":
            chords = chords_in_words(element, letters_too=self._letters_too)
            waiting = self._waiting_words
        elif advance := advance_of(element) / divisions:
            yield from self._placed(now + advance if advance > 0 else self._bar.length)
        offset = _offset(element) / divisions
        for chord in chords:
            if offset:
                yield replace(chord, onset=max(now + offset, Fraction(0)))
            else:
                waiting.append(replace(chord, onset=now))

    def _of_harmony(self, element: Element) -> tuple[ChordSymbol, ...]:
        if element.get("print-object") == "no":
            return ()
        chord = chord_of_harmony(element, Fraction(0))
        if chord is None:
            numeral = element.find("numeral") is not None or element.find("function") is not None
            self._left_out.add("tune.numeral_chords" if numeral else "tune.chords_without_root", self._bar.number)
            return ()
        if element.get("type") == "alternate":
            self._left_out.add("tune.alternative_chords", self._bar.number)
            return ()
        return (chord,)

    def _placed(self, end: Fraction) -> Iterator[ChordSymbol]:
        """What waits before a note that lasts until `end`. Words that stand beside a symbol only say it again."""
        if self._waiting_words and not self._waiting:
            self._left_out.add("tune.chords_in_words", self._bar.number)
        chords = [next(same) for _, same in groupby(self._waiting or self._waiting_words, key=attrgetter("text"))]
        self._waiting, self._waiting_words = [], []
        if len(chords) < 2 or end <= chords[0].onset:
            yield from chords
            return
        self._left_out.add("tune.chords_shared", self._bar.number)
        ahead = beats_ahead(self._bar)
        places = shared_places(len(chords), chords[0].onset, end, self._bar.meter, ahead=ahead)
        yield from (replace(chord, onset=place) for chord, place in zip(chords, places, strict=True))


def _offset(element: Element) -> Fraction:
    words = cleaned(element.findtext("offset"), 20)
    return Fraction(int(words)) if words.lstrip("-").isdecimal() and len(words) < 9 else Fraction(0)
