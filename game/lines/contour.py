"""Where a tune ranges, and the shape of its phrases (ours, from teachers' practice)."""

from collections.abc import Container, Sequence
from math import exp
from random import Random

from game.lines.levels import Level
from game.lines.scale import Scale

# Heights in the range at the bars of a phrase, from its first to its last: 0 the lowest note, 1 the highest.
_SHAPES = (
    (0.2, 0.6, 0.95, 0.45),
    (0.35, 0.95, 0.7, 0.3),
    (0.1, 0.4, 0.65, 0.9),
    (0.9, 0.7, 0.45, 0.2),
    (0.65, 0.3, 0.15, 0.55),
    (0.3, 0.75, 0.35, 0.6),
)
# The last phrase may not end up high: it has the key note to reach.
_LAST_SHAPES = (_SHAPES[0], _SHAPES[1], _SHAPES[3])
_CALM = 0.65
# Where the key note lies in a range of five notes: at the bottom, or fourth with the fifth degree at the bottom.
_FIVE_NOTES = {0: 4.0, 3: 2.0, 2: 1.0, 4: 0.6, 1: 0.6}
_FIVE = 5
# What a stretch among five notes counts for.
_STRETCHED = 0.1
# A range of which no note is wished for has to do where there is no other.
_LEAST = 1e-3


def range_of(
    level: Level, scale: Scale, weights: Sequence[float], rng: Random, stretches: Container[int] = ()
) -> tuple[int, int]:
    """The lowest and highest index a line uses. Ranges with notes of more weight come up more often, those with a note
    of weight 0 not at all, unless there is no other.

    Five notes that none wishes otherwise lie near the middle of the staff, where none of the MIDI numbers in
    `stretches` is among them.
    """
    count = len(scale.pitches)
    if level.span is None or level.span >= count:
        return 0, count - 1
    tonics = [index for index, pitch in enumerate(scale.pitches) if pitch.step == scale.tonic_step]
    odds = []
    for low in range(count - level.span + 1):
        inside = [tonic - low for tonic in tonics if 0 <= tonic - low < level.span]
        usual = max((_FIVE_NOTES[at] for at in inside), default=0.0) if level.span == _FIVE else float(bool(inside))
        if level.span == _FIVE:
            usual *= _lie(scale, low, stretches)
        odds.append(usual * max(_LEAST, sum(weights[low : low + level.span]) / level.span) ** 2)
    whole = [odd if all(weights[low : low + level.span]) else 0.0 for low, odd in enumerate(odds)]
    odds = whole if any(whole) else odds
    if level.span == _FIVE and len(set(weights)) == 1:
        low = odds.index(max(odds))
    else:
        low = rng.choices(range(len(odds)), odds)[0]
    return low, low + level.span - 1


def _lie(scale: Scale, low: int, stretches: Container[int]) -> float:
    """How well five notes lie: without a stretch, near the middle line."""
    five = scale.pitches[low : low + _FIVE]
    away = abs(five[2].staff_step - scale.clef.middle_step)
    return exp(-away / 3) * _STRETCHED ** sum(pitch.midi in stretches for pitch in five)


def heights_of(phrases: Sequence[int], rng: Random) -> list[float]:
    """A height for each bar. One phrase has the summit, the others keep lower."""
    summit = rng.randrange(len(phrases))
    heights: list[float] = []
    for index, bars in enumerate(phrases):
        shape = rng.choice(_LAST_SHAPES if index == len(phrases) - 1 else _SHAPES)
        reach = 1.0 if index == summit else _CALM
        heights += [reach * _between(shape, bar / max(1, bars - 1)) for bar in range(bars)]
    return heights


def _between(shape: Sequence[float], along: float) -> float:
    """The height of a shape between its points; `along` runs from 0 to 1."""
    place = along * (len(shape) - 1)
    left = min(int(place), len(shape) - 2)
    return shape[left] + (shape[left + 1] - shape[left]) * (place - left)
