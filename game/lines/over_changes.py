"""Eighth-note lines over changes: a chord tone on each strong beat, and ways from one to the next.

Each half bar is a cell of a chord tone and three eighths that lead to the next: along the scale, up or down the chord,
or round the next tone by an enclosure (the scale note above it and the semitone below). Trade.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from random import Random

from game.lines.changes import Chord
from game.lines.levels import Level
from game.lines.scale import Scale
from game.music.pitch import Pitch

CELL = 4
_REACH = 7


def targets(scale: Scale, chords: Sequence[Chord], rng: Random, weights: Mapping[int, float]) -> list[Pitch]:
    """A chord tone for each half bar, moving on in one direction until the map's edge turns it."""
    up = rng.random() < 0.5
    middle = scale.pitches[len(scale.pitches) // 2]
    line: list[Pitch] = []
    for chord in (chord for chord in chords for _ in range(2)):
        tones = chord.tones(scale)
        here = line[-1] if line else middle
        near = [tone for tone in tones if 0 < abs(tone.staff_step - here.staff_step) <= _REACH] or list(tones)
        onward = [tone for tone in near if (tone.staff_step > here.staff_step) == up]
        if not onward or rng.random() < 0.2:
            up = not up
            onward = [tone for tone in near if (tone.staff_step > here.staff_step) == up] or near
        odds = [weights.get(tone.midi, 1.0) / (1 + abs(tone.staff_step - here.staff_step)) for tone in onward]
        line.append(rng.choices(onward, odds)[0])
    return line


def cell(level: Level, scale: Scale, here: Pitch, ahead: Pitch, tones: Sequence[Pitch], rng: Random) -> list[Pitch]:
    """The chord tone `here` and three notes that lead to `ahead`."""
    ways = [way for way in _ways(level, scale, here, ahead, tones, rng) if _flows([here, *way, ahead])]
    return [here, *(rng.choice(ways) if ways else _scale_way(scale, here, ahead))]


def _ways(
    level: Level, scale: Scale, here: Pitch, ahead: Pitch, tones: Sequence[Pitch], rng: Random
) -> Iterator[list[Pitch]]:
    below, above = scale.neighbour(ahead, above=False), _beside(scale, ahead, 1)
    chromatic = rng.random() < level.chromatic
    if chromatic and below is not None and above is not None:
        for first in _near(tones, here):
            yield [first, above, below]
        start = _beside(scale, here, 1 if ahead.staff_step > here.staff_step else -1)
        if start is not None:
            yield [start, above, below]
        return
    approach = below if chromatic and below is not None else None
    yield _scale_way(scale, here, ahead)
    for first in _near(tones, here):
        for second in _near(tones, first):
            last = approach or _beside(scale, ahead, -1 if ahead.staff_step > second.staff_step else 1)
            if second != here and last is not None:
                yield [first, second, last]


def _scale_way(scale: Scale, here: Pitch, ahead: Pitch) -> list[Pitch]:
    """Three scale notes that end beside `ahead`, coming from the far side where it lies too near."""
    goal = _scale_index(scale, ahead)
    up = ahead.staff_step >= here.staff_step
    rows = ([goal - 3, goal - 2, goal - 1], [goal + 3, goal + 2, goal + 1])
    for row in rows if up else rows[::-1]:
        if all(0 <= index < len(scale.pitches) for index in row):
            return [scale.pitches[index] for index in row]
    raise AssertionError("a map holds seven notes of its key in a row")


def _near(tones: Sequence[Pitch], pitch: Pitch) -> list[Pitch]:
    return [tone for tone in tones if 0 < abs(tone.staff_step - pitch.staff_step) <= 4]


def _beside(scale: Scale, pitch: Pitch, by: int) -> Pitch | None:
    index = _scale_index(scale, pitch) + by
    return scale.pitches[index] if 0 <= index < len(scale.pitches) else None


def _scale_index(scale: Scale, pitch: Pitch) -> int:
    """The scale note on the same line or space."""
    first = scale.pitches[0].staff_step
    return max(0, min(len(scale.pitches) - 1, pitch.staff_step - first))


def _flows(row: Sequence[Pitch]) -> bool:
    """No note twice running, no leap beyond a sixth."""
    moves = [after.midi - before.midi for before, after in pairwise(row)]
    return all(0 < abs(move) <= 9 for move in moves)
