"""Three tones of each chord set under a melody, so that the voices move as little as they can from chord to chord.

Where a low melody leaves no room for them, they may lie around or above it, as a pianist's hand does who accompanies a
bass or a guitar in its low register (trade); whoever plays them has them softer there.

Pitches are MIDI numbers as they sound. Intervals lie no lower than they can be told apart ("low interval limits").
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise

LOWEST_CHORD_NOTE, HIGHEST_CHORD_NOTE = 41, 67
"""F2 to G4: the middle of the staff, out of the way of the bass (ours)."""

OVER_BASS = 3
"""The lowest voice keeps so many semitones from the bass, at least (ours)."""

OVER_MELODY = 3
"""Voices above a melody keep so many semitones from it, at least (ours)."""

WIDEST = 16
"""A chord around a melody is no wider: a tenth, as far as a hand reaches."""

_LOWEST_OF_INTERVAL = {1: 50, 2: 47, 3: 43, 4: 41, 5: 41, 6: 41}
"""The lowest lower note for a minor second, a major one, and so on to the tritone; wider ones are clear anywhere. It is
about a third below what handbooks of arranging say (from memory: C3 for a minor third): these chords are soft, short
and dull, and a guitar's melody leaves them no higher room.
"""

_SHELL = 2
"""So many voices, third and seventh, tell a chord over its bass; a melody that leaves no room for them has the chord
around it.
"""

_MIDDLE = 55.0
_KEPT_CANDIDATES = 10
# Costs beside a semitone of movement (ours).
_OFF_MIDDLE = 0.5
_GRATING = {1: 12.0, 13: 4.0}
_AGAINST_MELODY = 5.0
_OVER_MELODY = 6.0

Voicing = tuple[int, ...]
"""Rising pitches, none to three."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChordPlace:
    """A moment at which a chord is to sound: its telling tones (pitch classes), the bass note under it, and the lowest
    note of the melody while it sounds, None in a rest. `highest` is the highest one then, over which voices may lie
    where there is no room below; None where they may not.
    """

    telling: tuple[int, ...]
    bass: int
    melody: int | None
    highest: int | None = None

    def is_over_melody(self, voicing: Voicing) -> bool:
        """Whether a voicing reaches over the melody."""
        return self.highest is not None and bool(voicing) and voicing[-1] > self.highest


def voiced(places: Sequence[ChordPlace]) -> tuple[Voicing, ...]:
    """A voicing for every place: of all rows of voicings the one in which voices move least.

    All notes are below the melody. Where it leaves no room for three, they lie around or above it, if they may and are
    clear there, or two sound below it or one, the most telling; where it lies beside the bass, none.
    """
    rows = [_options(place) for place in places]
    costs: list[float] = []
    back: list[list[int]] = []
    for at, (options, place) in enumerate(zip(rows, places, strict=True)):
        before = rows[at - 1] if at else ()
        steps = [_cheapest(before, costs, option) for option in options]
        costs = [cost + _cost(option, place) for (cost, _), option in zip(steps, options, strict=True)]
        back.append([index for _, index in steps])
    return tuple(_way_back(rows, costs, back))


def movement(before: Voicing, after: Voicing) -> int:
    """Semitones that voices move in all. Where one has fewer notes, each of these to the nearest of the other."""
    if len(before) == len(after):
        return sum(abs(left - right) for left, right in zip(before, after, strict=True))
    fewer, more = sorted((before, after), key=len)
    return sum(min(abs(note - other) for other in more) for note in fewer)


def _cheapest(before: Sequence[Voicing], costs: Sequence[float], option: Voicing) -> tuple[float, int]:
    """The least cost of coming to a voicing, and from which one; 0 at the beginning."""
    steps = (
        (cost + movement(voicing, option), index)
        for index, (voicing, cost) in enumerate(zip(before, costs, strict=True))
    )
    return min(steps, default=(0.0, 0))


def _way_back(
    rows: Sequence[Sequence[Voicing]], costs: Sequence[float], back: Sequence[Sequence[int]]
) -> list[Voicing]:
    chosen: list[Voicing] = []
    index = min(range(len(costs)), key=costs.__getitem__, default=0)
    for row, before in zip(reversed(rows), reversed(back), strict=True):
        chosen.append(row[index])
        index = before[index]
    return chosen[::-1]


def _cost(voicing: Voicing, place: ChordPlace) -> float:
    """What a voicing costs by itself: a second right under the melody is as bad as one within it; what is over it is
    in the way of the ear.
    """
    if place.is_over_melody(voicing):
        return _own_cost(voicing) + _OVER_MELODY
    beside = place.melody is not None and bool(voicing) and place.melody - voicing[-1] == 1
    return _own_cost(voicing) + (_AGAINST_MELODY if beside else 0.0)


def _own_cost(voicing: Voicing) -> float:
    if not voicing:
        return 0.0
    off_middle = abs(sum(voicing) / len(voicing) - _MIDDLE)
    return _OFF_MIDDLE * off_middle + sum(_GRATING.get(upper - lower, 0.0) for lower, upper in combinations(voicing, 2))


def _options(place: ChordPlace) -> tuple[Voicing, ...]:
    ceiling = HIGHEST_CHORD_NOTE if place.melody is None else min(HIGHEST_CHORD_NOTE, place.melody - 1)
    lowest = max(LOWEST_CHORD_NOTE, place.bass + OVER_BASS)
    below = _within(place.telling, lowest, ceiling)
    if place.melody is None or place.highest is None or len(below[0]) == len(place.telling):
        return below
    around = _around(place.telling, lowest, (place.melody, place.highest))
    return (*below, *around) if len(below[0]) >= _SHELL else around or below


@lru_cache(maxsize=4096)
def _within(telling: tuple[int, ...], lowest: int, highest: int) -> tuple[Voicing, ...]:
    """The best voicings between two notes, with as many tones as there is room for."""
    for count in range(len(telling), 0, -1):
        for tones in dict.fromkeys((telling[:count], telling[1 : count + 1])):
            found = sorted((v for v in _placed(tones, lowest, highest) if _is_clear(v)), key=_own_cost)
            if found and len(tones) == count:
                return tuple(found[:_KEPT_CANDIDATES])
    return ((),)


@lru_cache(maxsize=4096)
def _around(telling: tuple[int, ...], lowest: int, melody: tuple[int, int]) -> tuple[Voicing, ...]:
    """The best voicings of all tones around or above a melody that goes between two notes; none where none is clear."""
    low, high = melody
    free = [
        voicing
        for voicing in _placed(telling, lowest, HIGHEST_CHORD_NOTE)
        if voicing[-1] - voicing[0] <= WIDEST and not any(low <= note < high + OVER_MELODY for note in voicing)
    ]
    return tuple(sorted(filter(_is_clear, free), key=_own_cost)[:_KEPT_CANDIDATES])


def _placed(tones: tuple[int, ...], lowest: int, highest: int) -> Iterator[Voicing]:
    """Every way to set these tones, each once, between two notes."""
    notes: list[Voicing] = [()]
    for tone in tones:
        first = lowest + (tone - lowest) % 12
        notes = [(*below, note) for below in notes for note in range(first, highest + 1, 12)]
    yield from (tuple(sorted(one)) for one in notes)


def _is_clear(voicing: Voicing) -> bool:
    return all(lower >= _LOWEST_OF_INTERVAL.get(upper - lower, 0) for lower, upper in pairwise(voicing))
