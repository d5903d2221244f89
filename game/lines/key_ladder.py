"""In which keys the lines of a level are made: first those that need no stretch on the player's map.

On position V that is C with its five notes from C to G, then F and B flat, C with its B, E flat, G, and on to the flat
keys of jazz; on another map its own stretches decide.
"""

from functools import lru_cache

from game.music.keys import Key
from game.music.pitch import SEMITONES_OF_STEP, STEPS
from game.neck.neck_map import NeckMap

# How many major keys each level has, and how many of these with their minor as well (ours).
_MAJORS = (1, 2, 3, 4, 5, 6, 7, 7)
_MINORS = (0, 0, 0, 3, 3, 3, 4, 4)
# Lines are made in the keys of jazz: up to five flats, one sharp.
_FIFTHS = range(-5, 2)
# The five notes of the first level, in the octaves of the staff.
_FIVE, _OCTAVES = 5, (4, 5)


def ladder_keys(level: int, neck_map: NeckMap) -> tuple[Key, ...]:
    """The keys of a level, 1 to 8, the easiest on the map first."""
    stretches = stretches_of(neck_map)
    written = frozenset(home.sounding + 12 * neck_map.reading.octaves_down for home in neck_map.homes)
    return _keys(level, stretches, written)


@lru_cache(maxsize=64)
def _keys(level: int, stretches: frozenset[int], written: frozenset[int]) -> tuple[Key, ...]:
    keys = [Key(fifths) for fifths in _FIFTHS]
    if level == 1:
        return (min(keys, key=lambda key: (_stretched_five(key, stretches, written), abs(key.fifths))),)
    keys.sort(key=lambda key: (len(stretches & _midis(key)), key.fifths > 0, abs(key.fifths)))
    majors = keys[: _MAJORS[level - 1]]
    return (*majors, *(Key(key.fifths, minor=True) for key in majors[: _MINORS[level - 1]]))


def stretches_of(neck_map: NeckMap) -> frozenset[int]:
    """The written MIDI numbers whose homes are no finger's own fret."""
    up = 12 * neck_map.reading.octaves_down
    return frozenset(home.sounding + up for home in neck_map.homes if home.stretch or home.outlying)


def _midis(key: Key) -> frozenset[int]:
    classes = {_semitones(key, step) % 12 for step in STEPS}
    return frozenset(midi for midi in range(128) if midi % 12 in classes)


def _semitones(key: Key, step: str) -> int:
    return SEMITONES_OF_STEP[step] + key.alter_of(step)


def _stretched_five(key: Key, stretches: frozenset[int], written: frozenset[int]) -> int:
    """How many of the five notes from the key note up need a stretch or are not there, in the octave where they lie
    best.
    """
    found = []
    for octave in _OCTAVES:
        low = 7 * octave + STEPS.index(key.name[0])
        midis = [12 * (at // 7 + 1) + _semitones(key, STEPS[at % 7]) for at in range(low, low + _FIVE)]
        found.append(sum(midi in stretches or midi not in written for midi in midis))
    return min(found)
