"""Chords a line goes over: two-five-ones and turnarounds in a key, as jazz tunes have them (trade)."""

from dataclasses import dataclass
from fractions import Fraction
from random import Random

from game.lines.scale import Scale
from game.music.chords import ChordSymbol
from game.music.pitch import STEPS, Pitch

# Degree of the scale (1 is the key note), kind as MusicXML names it, and text.
_Degree = tuple[int, str, str]
_TWO: _Degree = (2, "minor-seventh", "m7")
_THREE: _Degree = (3, "minor-seventh", "m7")
_FIVE: _Degree = (5, "dominant", "7")
_SIX: _Degree = (6, "minor-seventh", "m7")
_HOME: _Degree = (1, "major-seventh", "maj7")
_MINOR_TWO: _Degree = (2, "half-diminished", "m7b5")
_MINOR_FOUR: _Degree = (4, "minor-seventh", "m7")
_MINOR_HOME: _Degree = (1, "minor-seventh", "m7")
_ROUNDS = ((_TWO, _FIVE, _HOME, _SIX), (_HOME, _SIX, _TWO, _FIVE), (_THREE, _SIX, _TWO, _FIVE))
_MINOR_ROUNDS = ((_MINOR_TWO, _FIVE, _MINOR_HOME, _MINOR_FOUR), (_MINOR_HOME, _MINOR_FOUR, _MINOR_TWO, _FIVE))
_PLAIN = {1: ("major", ""), 4: ("major", ""), 5: ("dominant", "7")}
_PLAIN_MINOR = {1: ("minor", "m"), 4: ("minor", "m"), 5: ("dominant", "7")}
_CHORD_STEPS = (0, 2, 4, 6)


@dataclass(frozen=True, slots=True)
class Chord:
    """A chord of the key: its symbol, and the letters of its tones, root first."""

    symbol: ChordSymbol
    letters: tuple[str, ...]
    raised_third: bool = False

    def tones(self, scale: Scale) -> tuple[Pitch, ...]:
        """Its tones on the map, rising. In the minor the fifth degree takes the leading note."""
        found = []
        for pitch in scale.pitches:
            if pitch.step in self.letters:
                raised = self.raised_third and pitch.step == self.letters[1]
                tone = Pitch(pitch.step, pitch.alter + 1, pitch.octave) if raised else pitch
                if abs(tone.alter) <= 1 and tone.midi in scale.written:
                    found.append(tone)
        return tuple(found)


def changes(scale: Scale, bars: int, rng: Random) -> tuple[Chord, ...]:
    """A chord for each bar; the last is the key's own, and its dominant comes before it."""
    minor = scale.key.minor
    degrees: list[_Degree] = []
    while len(degrees) < bars:
        degrees += rng.choice(_MINOR_ROUNDS if minor else _ROUNDS)
    degrees[bars - 2 :] = [_FIVE, _MINOR_HOME if minor else _HOME]
    return tuple(_chord(scale, *degree) for degree in degrees)


def plain_chord(scale: Scale, letters: frozenset[str], *, last: bool) -> Chord:
    """The plain chord of the key that holds most of a bar's letters; at the end the key's own."""
    table = _PLAIN_MINOR if scale.key.minor else _PLAIN
    chords = [_chord(scale, degree, *kind) for degree, kind in table.items()]
    if last:
        return chords[0]
    return max(chords, key=lambda chord: len(letters & set(chord.letters[:3])))


def _chord(scale: Scale, degree: int, kind: str, text: str) -> Chord:
    first = STEPS.index(scale.tonic_step) + degree - 1
    letters = tuple(STEPS[(first + step) % 7] for step in _CHORD_STEPS)
    root = letters[0] + {-1: "b", 0: "", 1: "#"}[scale.key.alter_of(letters[0])]
    symbol = ChordSymbol(onset=Fraction(0), root=root, kind=kind, text=root + text)
    return Chord(symbol, letters, raised_third=scale.key.minor and degree == 5)
