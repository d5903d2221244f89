"""Ways from one chord tone to the next: up to three eighths along the scale, over the chord, by approach notes from a
semitone away, or round the goal by an enclosure (trade).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import prod
from random import Random

from game.lines.degree_chords import ChordScale
from game.lines.scale import Scale
from game.music.pitch import Pitch

# Staff steps from one note of a broken chord to the next, at most.
_BROKEN = 4
# Semitones: the widest leap inside a line, a sixth; from a fifth on one in two is refused.
_WIDEST, _WIDE, _OCTAVE = 9, 6, 12
_TRIES = 24
# Among how many ways weighted notes are looked for.
_WEIGHED = 6
# On one line or space a chromatic semitone, to the next one at most a whole tone.
_MOST_SEMITONES = {0: 1, 1: 2}

Line = list[Pitch]


@dataclass(frozen=True, slots=True)
class Connection:
    """From the chord tone `here` to the chord tone `ahead`, over a chord of the key; `weights` by MIDI number.
    `last` is the note sounded last.
    """

    scale: Scale
    over: ChordScale
    here: Pitch
    ahead: Pitch
    weights: Mapping[int, float]
    last: Pitch | None = None


Way = Callable[[Connection, Random], Line | None]


def connecting_notes(step: Connection, count: int, before: Pitch | None, chromatic: bool, rng: Random) -> Line:
    """`count` notes (0 to 3) that lead to `ahead`; `before` is the note they follow, None after a rest. After a rest
    they begin within an octave of `step.last`.
    """
    if count == 0:
        return []
    ways: list[Line] = []
    for attempt in range(_TRIES):
        kinds, odds = _CHROMATIC if chromatic and attempt < _TRIES // 2 else _PLAIN
        found = rng.choices(kinds, odds)[0](step, rng)
        if not found or (step.last and abs(found[-count].midi - step.last.midi) > _OCTAVE):
            continue
        if _flows([*([before] if before else []), *found[-count:], step.ahead], rng):
            ways.append(found[-count:])
            if len(ways) == (_WEIGHED if step.weights else 1):
                break
    if not ways:
        return _nearest(step, count, before)
    return rng.choices(ways, [prod(step.weights.get(pitch.midi, 1.0) for pitch in row) for row in ways])[0]


def resting_notes(over: ChordScale, here: Pitch, count: int, rng: Random) -> Line:
    """`count` notes after `here` that lead nowhere: chord tones close by, to stop on before a rest."""
    row = [here]
    for _ in range(count):
        near = [tone for tone in _near(over, row[-1]) if tone not in row[-2:]] or [here]
        row.append(
            rng.choices(near, [1 / (tone.midi - row[-1].midi) ** 2 if tone != row[-1] else 1 for tone in near])[0]
        )
    return row[1:]


def approach_note(step: Connection, before: Pitch, rng: Random) -> Pitch | None:
    """A note beside `here` that may take its place on the beat and resolve to it, not the one just played."""
    here = step.here
    options = [
        step.scale.neighbour(here, above=False),
        step.scale.neighbour(here, above=True),
        _beside(step.over, here, 1),
    ]
    fits = [
        pitch for pitch in options
        if pitch and 0 < abs(pitch.midi - here.midi) <= 2 and singable(before, pitch) and before.midi != here.midi
    ]  # fmt: skip
    return rng.choice(fits) if fits else None


def triplet_middle(over: ChordScale, first: Pitch, second: Pitch, goal: Pitch) -> Pitch:
    """A note for the middle of a triplet: on the way from one to the other, or a turn above or below.

    A first note that leans on `goal` by a semitone has it at once, before an enclosure closes.
    """
    if first not in over.by_step.values() and singable(first, goal) and singable(goal, second):
        return goal
    low, high = sorted((first.staff_step, second.staff_step))
    on_the_way = [over.by_step[step] for step in range(low + 1, high) if step in over.by_step]
    turns = [over.by_step[step] for step in (high + 1, low - 1, high + 2, low - 2) if step in over.by_step]
    middle = on_the_way[len(on_the_way) // 2 :] + on_the_way[: len(on_the_way) // 2] + turns
    fits = [pitch for pitch in middle if singable(first, pitch) and singable(pitch, second)]
    return (fits or middle or [goal])[0]


def singable(first: Pitch, second: Pitch) -> bool:
    """Whether a line may go from one note to the other: not the same one, no augmented second, at most a sixth."""
    semitones = abs(second.midi - first.midi)
    if semitones <= 1 or semitones > _WIDEST:
        return semitones == 1
    return semitones <= _MOST_SEMITONES.get(abs(second.staff_step - first.staff_step), _WIDEST)


def _flows(row: Sequence[Pitch], rng: Random) -> bool:
    """Whether a row can be sung, its wide leaps answered by the other direction; every other wide leap is refused."""
    before = 0
    wide = False
    for first, second in pairwise(row):
        move = second.midi - first.midi
        if not singable(first, second) or (abs(before) > _WIDE and move * before > 0):
            return False
        wide = wide or abs(move) > _WIDE
        before = move
    return not wide or rng.random() < 0.5


def _run(step: Connection, rng: Random) -> Line | None:
    """Three notes of the scale, from the side where `here` lies, or from the other."""
    up = (step.ahead.staff_step > step.here.staff_step) == (rng.random() < 0.8)
    goal = step.ahead.staff_step
    return _on_steps(step.over, (goal - 3, goal - 2, goal - 1) if up else (goal + 3, goal + 2, goal + 1))


def _broken(step: Connection, rng: Random) -> Line | None:
    """Two chord tones and a note beside `ahead`."""
    first = _any(_near(step.over, step.here), rng)
    second = _any(_near(step.over, first), rng) if first else None
    last = _beside(step.over, step.ahead, rng.choice((-1, 1)))
    return _line(first, second, last)


def _turn(step: Connection, rng: Random) -> Line | None:
    """A note of the chord, then the scale notes on both sides of `ahead`."""
    sides = [_beside(step.over, step.ahead, 1), _beside(step.over, step.ahead, -1)]
    rng.shuffle(sides)
    return _line(_any(_near(step.over, step.here), rng), *sides)


def _approach(step: Connection, rng: Random) -> Line | None:
    """Chord tones or a run, and the semitone below or above."""
    found = (_run if rng.random() < 0.5 else _broken)(step, rng)
    last = step.scale.neighbour(step.ahead, above=rng.random() < 0.3)
    return _line(*found[:2], last) if found else None


def _enclosure(step: Connection, rng: Random) -> Line | None:
    """The note above and the semitone below, either first; now and then semitones on both sides."""
    below = step.scale.neighbour(step.ahead, above=False)
    above = step.scale.neighbour(step.ahead, above=True) if rng.random() < 0.25 else _beside(step.over, step.ahead, 1)
    pair = (above, below) if rng.random() < 0.7 else (below, above)
    start = _near(step.over, step.here) + [pitch for by in (-1, 1) if (pitch := _beside(step.over, step.here, by))]
    return _line(_any(start, rng), *pair)


def _semitones(step: Connection, rng: Random) -> Line | None:
    """Semitones in a row: a whole tone of the scale filled on the way to `ahead`."""
    by = 1 if rng.random() < 0.6 else -1
    far = _beside(step.over, step.ahead, 2 * by)
    near = _beside(step.over, step.ahead, by)
    if not far or not near:
        return None
    if abs(near.midi - step.ahead.midi) == 2:
        filled = step.scale.neighbour(step.ahead, above=by > 0)
        return _line(far, near, filled)
    if abs(far.midi - near.midi) == 2:
        return _line(far, step.scale.neighbour(near, above=by > 0), near)
    return None


def _nearest(step: Connection, count: int, before: Pitch | None) -> Line:
    """Where no way was found: the notes nearest to `ahead` that may be sung one after the other."""
    row: Line = []
    after = step.ahead
    for left in range(count, 0, -1):
        fits = [pitch for pitch in step.over.by_step.values() if singable(pitch, after)]
        if left == 1 and before:
            fits = [pitch for pitch in fits if singable(before, pitch)] or fits
        goal = before or step.last or step.here
        after = min(fits, key=lambda pitch: abs(pitch.midi - goal.midi))
        row.insert(0, after)
    return row


def _near(over: ChordScale, pitch: Pitch) -> Line:
    here = pitch.staff_step
    return [tone for at, tone in over.tones.items() if 0 < abs(at - here) <= _BROKEN]


def _any(options: Sequence[Pitch], rng: Random) -> Pitch | None:
    return rng.choice(options) if options else None


def _beside(over: ChordScale, pitch: Pitch, by: int) -> Pitch | None:
    return over.by_step.get(pitch.staff_step + by)


def _on_steps(over: ChordScale, steps: Sequence[int]) -> Line | None:
    return _line(*(over.by_step.get(step) for step in steps))


def _line(*pitches: Pitch | None) -> Line | None:
    """The notes, None if one of them has no home on the map."""
    found = [pitch for pitch in pitches if pitch]
    return found if len(found) == len(pitches) else None


_Kinds = tuple[tuple[Way, ...], tuple[float, ...]]
_PLAIN: _Kinds = ((_run, _broken, _turn), (3.0, 2.0, 1.0))
_CHROMATIC: _Kinds = ((_approach, _enclosure, _semitones), (2.0, 3.0, 1.5))
