"""The tones of a chord symbol as an accompanist takes them: what the bass has, and the three that tell most of it."""

from collections.abc import Iterator
from dataclasses import dataclass

from game.music.chord_quality import Degrees, degrees_of
from game.music.chords import ChordSymbol
from game.music.pitch import SEMITONES_OF_STEP

MOST_TONES = 3
_COLOURS = (13, 11, 9)
_NATURAL_COLOURS = {13: 21, 11: 17, 9: 14}


@dataclass(frozen=True, slots=True, kw_only=True)
class ChordTones:
    """Pitch classes, C 0 to B 11.

    `bass` is the one written under a stroke, else the root. `third` is the suspended tone where there is one, and like
    `fifth` the root where the chord has none. `telling` are at most three, the most telling first: those of the triad,
    or guide tones and a colour; empty where the bass alone sounds.
    """

    root: int
    bass: int
    third: int
    fifth: int
    telling: tuple[int, ...]

    @property
    def over_bass(self) -> bool:
        """Whether a bass other than the root is written."""
        return self.bass != self.root


def tones_of(symbol: ChordSymbol) -> ChordTones | None:
    """What sounds of a chord symbol, None where none is to (N.C.)."""
    degrees = degrees_of(symbol)
    if not degrees:
        return None
    root = pitch_class(symbol.root)
    bass = pitch_class(symbol.bass) if symbol.bass else root
    tones = tuple(dict.fromkeys((root + semitones) % 12 for semitones in _by_weight(degrees, over_bass=bass != root)))
    # What the bass has need not be said twice, unless there is nothing else.
    apart = [tone for tone in tones if tone != bass] + [tone for tone in tones if tone == bass]
    third = _first(degrees, 3, 4, 2)
    return ChordTones(
        root=root,
        bass=bass,
        third=(root + third) % 12,
        fifth=(root + _first(degrees, 5)) % 12,
        telling=tuple(apart[:MOST_TONES]) if len(tones) > 1 else (),
    )


def pitch_class(letter: str) -> int:
    """The pitch class of an ASCII letter name ("Bb", "F##")."""
    return (SEMITONES_OF_STEP[letter[0]] + letter.count("#") - letter[1:].count("b")) % 12


def _first(degrees: Degrees, *numbers: int) -> int:
    """Semitones of the first of these degrees that the chord has; 0 where it has none."""
    return next((degrees[number][0] for number in numbers if number in degrees), 0)


def _by_weight(degrees: Degrees, *, over_bass: bool) -> Iterator[int]:
    """Semitones above the root, the most telling tone first (trade): third, seventh or sixth, altered tones, the
    highest of the others, then fifth and root. Beside a natural eleventh a major third is left out.
    """
    eleventh = 7 in degrees and 13 not in degrees and degrees.get(11) == (17,) and degrees.get(3) == (4,)
    for number in (3, 4, 2):
        if not eleventh:
            yield from degrees.get(number, ())
    yield from degrees.get(7, degrees.get(6, ()))
    yield from (tone for tone in degrees.get(5, ()) if tone != 7)
    colours = [(number, tone) for number in _COLOURS for tone in degrees.get(number, ())]
    yield from (tone for number, tone in colours if tone != _NATURAL_COLOURS[number])
    yield from (tone for number, tone in colours if tone == _NATURAL_COLOURS[number])
    root_and_fifth = (1, 5) if over_bass else (5, 1)
    for number in (6, *root_and_fifth):
        yield from degrees.get(number, ())
