"""The single notes of the placing test, from those in the middle of the map to the chromatic ones."""

from collections.abc import Sequence
from random import Random

from game.music.pitch import SEMITONES_OF_STEP
from game.neck.neck_map import NeckMap

_NATURAL = frozenset(SEMITONES_OF_STEP.values())
# How many neighbouring natural notes each level ranges over; None: the whole map. They follow the fresh lines.
_RANGES: dict[int, int | None] = {1: 5, 2: 8, 3: 11, 4: None}


def notes_of_level(level: int, neck_map: NeckMap) -> tuple[int, ...]:
    """The sounding pitches among which a note of a level 1 to 5 is drawn: natural notes around the middle of the map,
    more of them from level to level; at level 5 those with a sharp or flat. All the map's where it has none such.
    """
    soundings = [home.sounding for home in neck_map.homes]
    natural = [sounding for sounding in soundings if sounding % 12 in _NATURAL]
    if level not in _RANGES:
        return tuple(sounding for sounding in soundings if sounding % 12 not in _NATURAL) or tuple(soundings)
    count = _RANGES[level]
    if count is None or count >= len(natural):
        return tuple(natural or soundings)
    first = (len(natural) - count) // 2
    return tuple(natural[first : first + count])


def drawn_note(level: int, neck_map: NeckMap, asked: Sequence[int], rng: Random) -> int:
    """A note of a level by chance, not one of the last two `asked` where there is another."""
    choices = notes_of_level(level, neck_map)
    fresh = [sounding for sounding in choices if sounding not in asked[-2:]]
    return rng.choice(fresh or choices)
