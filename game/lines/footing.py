"""What pitches a note of a line may have, before it is known where the line comes from: by chord, place in the bar,
register and the player's weights.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache, lru_cache
from math import exp

from game.lines.degree_chords import Chord, ChordScale
from game.lines.line_weights import Idiom, weights_of
from game.lines.rhythms import HALF, QUARTER, ticks_of
from game.lines.scale import Scale, is_rare_spelling
from game.music.meter import Meter
from game.music.pitch import SEMITONES_OF_STEP, STEPS, Pitch

_FAMILIES = {
    "major": "M", "major-seventh": "M", "major-sixth": "M", "minor": "m", "minor-seventh": "m", "minor-sixth": "m",
    "dominant": "7", "half-diminished": "h",
}  # fmt: skip
# A weight for degrees that the table does not have at all: rare, not forbidden.
_RARE = 0.3


@dataclass(frozen=True, slots=True)
class Footing:
    """A note to be found: `pitches` are the weights of MIDI numbers, those that cannot be left out; `place` is
    "strong", "beat" or "off"; `after_gap` says that two beats and more lie before it; `over` is the chord's scale where
    notes outside it may be had, `colours` those of them that need not go on by step, `tones` the pitch classes of the
    chord; `ticks` the note's length, `quick` that it comes within an eighth.
    """

    pitches: Mapping[int, float]
    place: str
    after_gap: bool = False
    over: ChordScale | None = None
    ticks: int = QUARTER
    quick: bool = False
    colours: Mapping[int, Pitch] = field(default_factory=dict)
    tones: frozenset[int] = frozenset()


@cache
def place_of(onset: int, meter: Meter) -> str:
    """How a note stands in its bar: on a strong beat, another beat, or off the beat. In 3/4 one beat is strong."""
    at = onset % ticks_of(meter)
    beat = int(meter.beat_length * QUARTER) if meter.compound else QUARTER
    strong = HALF if ticks_of(meter) % HALF == 0 and not meter.compound else ticks_of(meter)
    if at % strong == 0:
        return "strong"
    return "off" if at % beat else "beat"


@lru_cache(maxsize=2048)
def degree_weights(idiom: Idiom, chord: Chord, place: str) -> tuple[float, ...]:
    """A weight for each pitch class, C first, over a chord; about 1 for the likeliest."""
    tables = weights_of(idiom).degrees
    row = tables[f"{_FAMILIES[chord.quality.kind]}|{place}"]
    most = max(row)
    root = root_of(chord)
    return tuple(max(_RARE, row[(pitch_class - root) % 12]) / most for pitch_class in range(12))


@lru_cache(maxsize=256)
def root_of(chord: Chord) -> int:
    """The pitch class of its root."""
    letter, alter = chord.spelling[0]
    return (SEMITONES_OF_STEP[letter] + alter) % 12


@lru_cache(maxsize=256)
def tones_in(chord: Chord) -> frozenset[int]:
    """The pitch classes of its tones."""
    return frozenset((SEMITONES_OF_STEP[letter] + alter) % 12 for letter, alter in chord.spelling)


@lru_cache(maxsize=256)
def clashes_with(chord: Chord) -> frozenset[int]:
    """The pitch classes that grate when they are held: a semitone above a chord tone, over a dominant the fourth and
    the major seventh (trade).
    """
    root, tones = root_of(chord), tones_in(chord)
    if chord.quality.kind == "dominant":
        return frozenset({(root + 5) % 12, (root + 11) % 12})
    last = max(tones, key=lambda tone: (tone - root) % 12)
    return frozenset((tone + 1) % 12 for tone in tones if tone != last) - tones


# Altered tones that colour a chord, by letters and semitones above the root: flat ninth, minor third and flat
# thirteenth of a dominant, the blue third of a major chord (trade).
_COLOURS = {"dominant": ((1, 1), (2, 3), (5, 8)), "major-sixth": ((2, 3),), "major-seventh": ((2, 3),)}


@lru_cache(maxsize=512)
def colours_of(scale: Scale, chord: Chord) -> dict[int, Pitch]:
    """The notes on the map that may colour a chord, by MIDI number, as they are spelled."""
    found: dict[int, Pitch] = {}
    root = root_of(chord)
    for letters, semitones in _COLOURS.get(chord.quality.kind, ()):
        step = STEPS[(STEPS.index(chord.root[0]) + letters) % len(STEPS)]
        alter = (root + semitones - SEMITONES_OF_STEP[step] + 6) % 12 - 6
        if abs(alter) > 1 or is_rare_spelling(step, alter, scale.key):
            continue
        pitches = (Pitch(step, alter, octave) for octave in scale.octaves)
        found |= {pitch.midi: pitch for pitch in pitches if pitch.midi in scale.written}
    return found


@cache
def nearness(away: int, width: float) -> float:
    """How likely a pitch is so many semitones from where the line should lie."""
    return exp(-abs(away) / width)
