"""Chords by the degrees of a key, spelled, and the scale that goes over each."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache

from game.lines.scale import Scale
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.pitch import SEMITONES_OF_STEP, STEPS, Pitch

_MAJOR_SCALE = (0, 2, 4, 5, 7, 9, 11)
_SIGNS = {-1: "b", 0: "", 1: "#"}


@dataclass(frozen=True, slots=True)
class Quality:
    """A kind of chord: MusicXML's name, what the page shows after the root, and for each tone how many letters and
    semitones it lies above the root.
    """

    kind: str
    text: str
    tones: tuple[tuple[int, int], ...]


MAJOR = Quality("major", "", ((0, 0), (2, 4), (4, 7)))
MINOR = Quality("minor", "m", ((0, 0), (2, 3), (4, 7)))
MAJOR_SEVENTH = Quality("major-seventh", "maj7", ((0, 0), (2, 4), (4, 7), (6, 11)))
MINOR_SEVENTH = Quality("minor-seventh", "m7", ((0, 0), (2, 3), (4, 7), (6, 10)))
DOMINANT = Quality("dominant", "7", ((0, 0), (2, 4), (4, 7), (6, 10)))
HALF_DIMINISHED = Quality("half-diminished", "m7b5", ((0, 0), (2, 3), (4, 6), (6, 10)))
MAJOR_SIXTH = Quality("major-sixth", "6", ((0, 0), (2, 4), (4, 7), (5, 9)))
MINOR_SIXTH = Quality("minor-sixth", "m6", ((0, 0), (2, 3), (4, 7), (5, 9)))


@dataclass(frozen=True, slots=True)
class Degree:
    """A chord as a degree of the major scale on the key note, 1 to 7, with an alteration: the bIII of a minor key is
    `Degree(3, MAJOR_SEVENTH, -1)`.
    """

    number: int
    quality: Quality
    alter: int = 0


@dataclass(frozen=True, slots=True)
class Chord:
    """A chord of a key: its root as it is spelled, its kind, and what it alters, letter by letter, root first."""

    root: str
    quality: Quality
    spelling: tuple[tuple[str, int], ...]

    def symbol(self, onset: Fraction) -> ChordSymbol:
        """As it stands above the staff, `onset` quarter notes into its bar."""
        return ChordSymbol(onset=onset, root=self.root, kind=self.quality.kind, text=self.root + self.quality.text)

    @property
    def letters(self) -> tuple[str, ...]:
        """The letters of its tones, root first."""
        return tuple(letter for letter, _ in self.spelling)


@dataclass(frozen=True, slots=True)
class ChordScale:
    """The notes of a key on the map with those of a chord put in, rising, by their line or space; the chord tones
    among them, and all of them by MIDI number.
    """

    by_step: Mapping[int, Pitch]
    tones: Mapping[int, Pitch]
    midis: Mapping[int, Pitch]


@cache
def chord_on_degree(key: Key, degree: Degree) -> Chord | None:
    """The chord of a degree, None where it would need a double accidental."""
    tonic_step = key.name[0]
    tonic = STEPS.index(tonic_step)
    key_note = SEMITONES_OF_STEP[tonic_step] + key.alter_of(tonic_step)
    root = key_note + _MAJOR_SCALE[degree.number - 1] + degree.alter
    spelling = []
    for letters, semitones in degree.quality.tones:
        letter = STEPS[(tonic + degree.number - 1 + letters) % 7]
        alter = (root + semitones - SEMITONES_OF_STEP[letter] + 6) % 12 - 6
        if abs(alter) > 1:
            return None
        spelling.append((letter, alter))
    first, alter = spelling[0]
    return Chord(first + _SIGNS[alter], degree.quality, tuple(spelling))


@lru_cache(maxsize=512)
def scale_over(scale: Scale, chord: Chord) -> ChordScale:
    """The key's notes with the chord's own in place of those on the same letters."""
    alters = {step: scale.key.alter_of(step) for step in STEPS} | dict(chord.spelling)
    pitches: list[Pitch] = []
    for octave in scale.octaves:
        for step in STEPS:
            pitch = Pitch(step, alters[step], octave)
            # Two letters may come to the same sound, as E sharp beside F: the first stays.
            if pitch.midi in scale.written and (not pitches or pitch.midi > pitches[-1].midi):
                pitches.append(pitch)
    by_step = {pitch.staff_step: pitch for pitch in pitches}
    letters = chord.letters
    return ChordScale(
        by_step,
        {step: pitch for step, pitch in by_step.items() if pitch.step in letters},
        {pitch.midi: pitch for pitch in pitches},
    )
