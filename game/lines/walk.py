"""Lines along the scale: steps, thirds, leaps answered by steps, accidentals that resolve."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from random import Random

from game.lines.levels import Level
from game.lines.scale import Scale
from game.music.meter import Meter
from game.music.pitch import Pitch

_HALF, _WHOLE_BEAT = Fraction(1, 2), Fraction(1)
_STEP_WEIGHT = 3.0


def rhythm_of_bar(level: Level, meter: Meter, rng: Random, *, last: bool) -> tuple[Fraction, ...]:
    """The note lengths of a bar, in quarter notes: whole beats, divided or joined as the level has it."""
    if last:
        return (meter.bar_length,) if meter.bar_length <= 2 else (_WHOLE_BEAT, meter.bar_length - 1)
    lengths: list[Fraction] = []
    while sum(lengths) < meter.bar_length:
        left = meter.bar_length - sum(lengths)
        if rng.random() < level.eighths:
            lengths += [_HALF, _HALF]
        elif left >= 2 and sum(lengths) % 2 == 0 and rng.random() < 0.2:
            lengths.append(Fraction(2))
        else:
            lengths.append(_WHOLE_BEAT)
    return tuple(lengths)


def walk(level: Level, scale: Scale, count: int, rng: Random, weights: Mapping[int, float]) -> list[Pitch]:
    """So many notes, ending on the key note. `weights` by written MIDI number bring slow notes up more often."""
    low, high = _range_of(level, scale, rng)
    tonics = [i for i in range(low, high + 1) if scale.pitches[i].step == scale.tonic_step]
    line = [rng.choice(tonics)]
    while len(line) < count:
        left = count - len(line)
        choices = [i for i in range(low, high + 1) if _allowed(line, i, level, left, tonics)]
        # Nothing may be left at the very end of a narrow range: then a step towards the key note.
        here = line[-1]
        choices = choices or [here + (1 if min(tonics, key=lambda t: abs(t - here)) > here else -1)]
        line.append(rng.choices(choices, [_weight(line, i, scale, weights) for i in choices])[0])
    return _with_accidentals(level, scale, [scale.pitches[i] for i in line], rng)


def _range_of(level: Level, scale: Scale, rng: Random) -> tuple[int, int]:
    if level.span is None:
        return 0, len(scale.pitches) - 1
    tonics = [
        i for i, pitch in enumerate(scale.pitches)
        if pitch.step == scale.tonic_step and i + level.span <= len(scale.pitches)
    ]  # fmt: skip
    low = rng.choice(tonics or [0])
    return low, min(len(scale.pitches) - 1, low + level.span - 1)


def _allowed(line: Sequence[int], index: int, level: Level, left: int, tonics: Sequence[int]) -> bool:
    """Whether a note may come next: no wide leap, a leap answered by a step back, and home within reach."""
    move = index - line[-1]
    if abs(move) > level.leap or (move == 0 and len(line) > 1 and line[-1] == line[-2]):
        return False
    before = line[-1] - line[-2] if len(line) > 1 else 0
    if abs(before) > 2 and (abs(move) != 1 or (move > 0) == (before > 0)):
        return False
    away = min(abs(index - tonic) for tonic in tonics)
    # The last note is the key note, and the one before it lies beside it.
    return away == 1 if left == 2 else away <= left - 1


def _weight(line: Sequence[int], index: int, scale: Scale, weights: Mapping[int, float]) -> float:
    step = _STEP_WEIGHT if abs(index - line[-1]) == 1 else 1.0 if index != line[-1] else 0.4
    return step * weights.get(scale.pitches[index].midi, 1.0)


def _with_accidentals(level: Level, scale: Scale, line: list[Pitch], rng: Random) -> list[Pitch]:
    """Some notes that lie beside the next become its chromatic neighbour, which resolves to it."""
    for index in range(1, len(line) - 1):
        after = line[index + 1]
        beside = abs(line[index].staff_step - after.staff_step) == 1
        if beside and rng.random() < level.chromatic:
            neighbour = scale.neighbour(after, above=line[index].staff_step > after.staff_step)
            if neighbour is not None and neighbour != line[index - 1]:
                line[index] = neighbour
    return line
