"""Bars with melody and chord symbols, and what accompanies them, in a form that can be read."""

from dataclasses import replace
from fractions import Fraction

from game.audio.accompaniment import AccompanimentNote, accompaniment_of
from game.audio.patterns import BandPart
from game.music.accompanying import Manner
from game.music.chords import ChordSymbol
from game.music.meter import Meter
from game.music.score import Bar, Reading
from game.tunes.abc.chord_text import chord_of
from tests.made import bar
from tests.music.made_chords import named


def sheet(row: str, chords: str = "", *, meter: tuple[int, int] = (4, 4), pickup: bool = False) -> Bar:
    """A bar of notes with chords at their quarters: "C 0, G7 2"."""
    made = bar(row, meter=Meter(*meter), pickup=pickup)
    return replace(made, chords=tuple(chord(*one.split()) for one in chords.split(",") if one))


def chord(text: str, at: str = "0") -> ChordSymbol:
    found = chord_of(text, Fraction(at))
    assert found is not None, text
    return found


def accompanied(
    *bars: Bar,
    manner: Manner = Manner.TWO_BEAT,
    swing: float = 1.0,
    quarter_bpm: int = 120,
    before: ChordSymbol | None = None,
) -> tuple[AccompanimentNote, ...]:
    return accompaniment_of(
        bars, Reading.CONCERT, quarter_bpm=Fraction(quarter_bpm), manner=manner, swing=swing, before=before
    )


def basses(notes: tuple[AccompanimentNote, ...]) -> str:
    """ "0 C, 2 G": where the bass plays which letters."""
    return ", ".join(f"{one.onset_quarters} {named(one.soundings)}" for one in notes if one.part is BandPart.BASS)


def chords(notes: tuple[AccompanimentNote, ...]) -> str:
    """The same of the chords, their letters in the order of the alphabet."""
    row = (one for one in notes if one.part is BandPart.CHORD)
    return ", ".join(f"{one.onset_quarters} {''.join(sorted(named(one.soundings).split()))}" for one in row)
