"""Plain chords under lines along the scale: phrases open on the fifth degree and close on the first (trade)."""

from collections.abc import Sequence
from random import Random

from game.errors import TuneError
from game.lines.degree_chords import DOMINANT, MAJOR, MINOR, Chord, Degree, chord_on_degree
from game.lines.levels import Level
from game.lines.scale import Scale

_DOMINANT = Degree(5, DOMINANT)
_EASY_LEVELS = 2
_EASY_DEGREES = {1, 4, 5}
_MAJOR_DEGREES = {
    1: Degree(1, MAJOR),
    2: Degree(2, MINOR),
    4: Degree(4, MAJOR),
    5: _DOMINANT,
    6: Degree(6, MINOR),
}
_MINOR_DEGREES = {
    1: Degree(1, MINOR),
    4: Degree(4, MINOR),
    5: Degree(5, MINOR),
    6: Degree(6, MAJOR, -1),
    7: Degree(7, MAJOR, -1),
}
_Rows = tuple[tuple[int, ...], ...]
_OPEN: _Rows = ((1, 1, 4, 5), (1, 4, 1, 5), (1, 5, 1, 5), (1, 6, 4, 5), (1, 6, 2, 5), (4, 1, 2, 5), (6, 4, 1, 5))
_CLOSED: _Rows = ((1, 4, 5, 1), (4, 1, 5, 1), (1, 1, 5, 1), (6, 2, 5, 1), (4, 5, 5, 1))
_MINOR_OPEN: _Rows = ((1, 1, 4, 5), (1, 4, 1, 5), (1, 7, 6, 5), (1, 6, 7, 5), (4, 1, 4, 5))
_MINOR_CLOSED: _Rows = ((1, 4, 5, 1), (1, 1, 5, 1), (6, 4, 5, 1), (4, 7, 5, 1))


def plain_chords(level: Level, scale: Scale, phrases: Sequence[int], rng: Random) -> tuple[Chord, ...]:
    """A chord for each bar. The first levels know the first, fourth and fifth degree only; in the minor the fifth has
    its leading note where the level has accidentals.
    """
    opened, closed = (_MINOR_OPEN, _MINOR_CLOSED) if scale.key.minor else (_OPEN, _CLOSED)
    chords = chords_by_degree(level, scale)
    opened, closed = (tuple(row for row in rows if chords.keys() >= set(row)) for rows in (opened, closed))
    numbers: list[int] = []
    for index, bars in enumerate(phrases):
        row = rng.choice(closed if index == len(phrases) - 1 else opened)
        # A short phrase keeps its cadence; the first chord of the line is always the key's own.
        numbers += row[-bars:]
    if len(numbers) > 2:
        numbers[0] = 1
    return tuple(chords[number] for number in numbers)


def chords_by_degree(level: Level, scale: Scale) -> dict[int, Chord]:
    """The chords that a level knows in a key, by degree."""
    minor = scale.key.minor
    degrees = dict(_MINOR_DEGREES if minor else _MAJOR_DEGREES)
    if level.chromatic and chord_on_degree(scale.key, _DOMINANT):
        degrees[5] = _DOMINANT
    known = _EASY_DEGREES if level.number <= _EASY_LEVELS else degrees.keys()
    return {number: _plain(scale, degree) for number, degree in degrees.items() if number in known}


def _plain(scale: Scale, degree: Degree) -> Chord:
    chord = chord_on_degree(scale.key, degree)
    if chord is None:
        raise TuneError("lines.chords_unwritable", key=scale.key.name)
    return chord
