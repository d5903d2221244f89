"""Tunes along the scale: each bar sets out from a note of its chord and walks to that of the next.

The walk goes mostly by step, keeps its direction, and answers a leap by a step back; a bar that shares its rhythm with
one before may take up its steps as well, from another note. The last note is the key note, reached by step (trade).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp
from random import Random

from game.lines.contour import range_of
from game.lines.degree_chords import Chord
from game.lines.line_request import LineRequest
from game.lines.phrasing import CADENCE

_REPEAT, _STEP, _THIRD, _LEAP = 0.4, 3.0, 1.3, 5.0
_TAKEN_UP = 0.6
# How often a bar is made again that has been there in the same tune.
_TRIES = 4
# How likely a bar begins with a note outside its chord, beside one inside.
_OUTSIDE = 0.12
# Scale steps: more than a third is a leap.
_THIRD_STEPS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class MelodyFrame:
    """What a tune is made of: the indices of the scale from `low` to `high`, which of them are key notes, MIDI numbers
    and weights of all of them; for each bar the indices that belong to its chord, the index it should lie near, how
    many notes it has, and how many moves are left from its first note to the last note of all.
    """

    leap: int
    low: int
    high: int
    tonics: tuple[int, ...]
    midis: tuple[int, ...]
    weights: Sequence[float]
    tones: tuple[frozenset[int], ...]
    aims: tuple[float, ...]
    counts: tuple[int, ...]
    left: tuple[int, ...]

    def homeward(self, index: int, left: int) -> bool:
        """Whether the key note can be reached in so many moves, the last of them a step."""
        away = min(abs(index - tonic) for tonic in self.tonics)
        return away == 1 if left == 1 else away <= left


def melody_frame(
    request: LineRequest, chords: Sequence[Chord], heights: Sequence[float], counts: Sequence[int], rng: Random
) -> MelodyFrame:
    """The frame of a tune in a window of its scale, with a chord, a height (0 to 1) and a number of notes a bar."""
    scale = request.scale
    weights = [request.weights.get(pitch.midi, 1.0) for pitch in scale.pitches]
    low, high = range_of(request.level, scale, weights, rng)
    letters = [pitch.step for pitch in scale.pitches]
    inside = range(low, high + 1)
    return MelodyFrame(
        leap=request.level.leap,
        low=low,
        high=high,
        tonics=tuple(index for index in inside if letters[index] == scale.tonic_step),
        midis=tuple(pitch.midi for pitch in scale.pitches),
        weights=weights,
        tones=tuple(frozenset(index for index in inside if letters[index] in chord.letters[:3]) for chord in chords),
        aims=tuple(low + height * (high - low) for height in heights),
        counts=tuple(counts),
        left=tuple(sum(counts[bar:]) - 1 for bar in range(len(counts))),
    )


def melody(frame: MelodyFrame, letters: Sequence[str], rng: Random) -> list[list[int]]:
    """The tune: for each bar the indices of its notes. Bars with the same letter may share their steps, not all their
    notes.
    """
    rows: list[list[int]] = []
    steps_of: dict[str, list[int]] = {}
    first = _first(frame, rng)
    last = len(letters) - 1
    for bar, letter in enumerate(letters[:-1]):
        for _ in range(_TRIES):
            *notes, ahead = _bar(frame, bar, letter, first, steps_of.get(letter, []), rng)
            if notes not in rows:
                break
        if letter != CADENCE:
            steps_of[letter] = [after - before for before, after in pairwise(notes)]
        rows.append(notes)
        first = ahead
    moves = frame.counts[last] - 1
    if moves == 0:
        return [*rows, [first]]
    home = min(frame.tonics, key=lambda tonic: abs(tonic - first))
    return [*rows, [*_walk(frame, last, first, home, moves, rng), home]]


def _bar(frame: MelodyFrame, bar: int, letter: str, first: int, steps: Sequence[int], rng: Random) -> list[int]:
    """The notes of a bar and the first of the next; `steps` are those of an earlier bar with the same letter."""
    count = frame.counts[bar]
    row = None
    if 0 < len(steps) == count - 1 and rng.random() < _TAKEN_UP:
        row = _taken_up(frame, bar, first, steps, rng)
    elif letter == CADENCE:
        row = _cadence(frame, bar, first, rng)
    if row is None:
        ahead = _ahead(frame, bar + 1, first, count, rng)
        row = [*_walk(frame, bar, first, ahead, count, rng), ahead]
    return row


def _first(frame: MelodyFrame, rng: Random) -> int:
    options = [index for index in range(frame.low, frame.high + 1) if frame.homeward(index, frame.left[0])]
    return rng.choices(options, [_fit(frame, 0, index) for index in options])[0]


def _fit(frame: MelodyFrame, bar: int, index: int) -> float:
    """How well a bar begins with a note: a chord tone, near the height it should have."""
    tone = 1.0 if index in frame.tones[bar] else _OUTSIDE
    return tone * exp(-abs(index - frame.aims[bar]) / 2) * frame.weights[index]


def _ahead(frame: MelodyFrame, bar: int, here: int, moves: int, rng: Random) -> int:
    """The first note of `bar`, so many moves from `here`."""
    reach = moves if moves > 1 else min(frame.leap, _THIRD_STEPS)
    options = _beginnings(frame, bar, range(here - reach, here + reach + 1))
    if moves == 1 and frame.left[bar] == 0:
        options = [index for index in options if abs(index - here) == 1]
    # From a narrow place there may be only the way home, a step at a time.
    options = options or [_homeward(frame, here)]
    odds = [_fit(frame, bar, index) * (0.3 if index == here else 1.0) for index in options]
    return rng.choices(options, odds)[0]


def _beginnings(frame: MelodyFrame, bar: int, near: Sequence[int]) -> list[int]:
    """Which indices may begin a bar: inside the range, and the end still within reach."""
    left = frame.left[bar]
    if left == 0:
        return [index for index in near if index in frame.tonics]
    return [index for index in near if frame.low <= index <= frame.high and frame.homeward(index, left)]


def _homeward(frame: MelodyFrame, here: int) -> int:
    home = min(frame.tonics, key=lambda tonic: abs(tonic - here))
    up = home > here or here == frame.low
    return here + (1 if up else -1)


def _taken_up(frame: MelodyFrame, bar: int, first: int, steps: Sequence[int], rng: Random) -> list[int] | None:
    """The steps of an earlier bar from another note, and the note they lead to; None where they do not fit."""
    row = [first]
    for step in steps:
        row.append(row[-1] + step)
    if not all(frame.low <= index <= frame.high for index in row):
        return None
    if any(abs(frame.midis[after] - frame.midis[before]) == 6 for before, after in pairwise(row)):
        return None
    here, last = row[-1], steps[-1]
    moves = (-1, 1, -2, 2)[: 2 * min(frame.leap, _THIRD_STEPS)]
    if abs(last) > _THIRD_STEPS:
        moves = (-1,) if last > 0 else (1,)
    options = [
        index for index in _beginnings(frame, bar + 1, [here + move for move in moves])
        if frame.left[bar + 1] > 0 or abs(index - here) == 1
    ]  # fmt: skip
    options = [index for index in options if index in frame.tones[bar + 1]]
    if not options:
        return None
    return [*row, rng.choices(options, [_fit(frame, bar + 1, index) for index in options])[0]]


def _cadence(frame: MelodyFrame, bar: int, first: int, rng: Random) -> list[int] | None:
    """The notes of a bar that ends on a note of its chord, where the phrase breathes, and the first of the next."""
    moves = frame.counts[bar] - 1
    options = [
        index for index in frame.tones[bar]
        if abs(index - first) <= moves and frame.homeward(index, frame.left[bar] - moves)
    ]  # fmt: skip
    if not moves or not options:
        return None
    odds = [frame.weights[index] * (0.3 if index == first else 1.0) for index in options]
    end = rng.choices(options, odds)[0]
    row = [*_walk(frame, bar, first, end, moves, rng), end]
    return [*row, _ahead(frame, bar + 1, end, 1, rng)]


def _walk(frame: MelodyFrame, bar: int, first: int, goal: int, moves: int, rng: Random) -> list[int]:
    """The notes from `first` on that lead to `goal` in so many moves, without it."""
    row = [first]
    final = frame.left[bar] == moves
    before = 0
    while len(row) < moves:
        here, left = row[-1], moves - len(row)
        options, odds = [], []
        for index in range(max(frame.low, here - frame.leap), min(frame.high, here + frame.leap) + 1):
            odd = _odds(frame, bar, row, index, before) if _leads(index, goal, left, final=final) else 0.0
            if odd and abs(index - here) > _THIRD_STEPS:
                back = index - 1 if index > here else index + 1
                odd *= _leads(back, goal, left - 1, final=final)
            if odd:
                options.append(index)
                odds.append(odd)
        index = rng.choices(options, odds)[0]
        before = index - here
        row.append(index)
    return row


def _leads(index: int, goal: int, left: int, *, final: bool) -> bool:
    """Whether `goal` can be reached in so many moves, at the very end by a step."""
    away = abs(goal - index)
    return away == 1 if final and left == 1 else away <= left


def _odds(frame: MelodyFrame, bar: int, row: Sequence[int], index: int, before: int) -> float:
    """How likely a note comes next; `before` is the move just made. A leap is answered by a step back."""
    here = row[-1]
    move = index - here
    size = abs(move)
    if abs(before) > _THIRD_STEPS:
        return float(size == 1 and (move > 0) != (before > 0))
    if size > _THIRD_STEPS:
        in_chord = index in frame.tones[bar] and here in frame.tones[bar]
        tritone = abs(frame.midis[index] - frame.midis[here]) == 6
        odd = 0.0 if tritone else _LEAP if in_chord else _LEAP / 8
    elif size == _THIRD_STEPS:
        odd = _THIRD * (1.6 if index in frame.tones[bar] else 0.7)
    elif size == 1:
        odd = _STEP * (1.5 if move * before > 0 else 1.0)
    else:
        odd = _REPEAT if before else _REPEAT / 10
    # To and fro between two notes is no tune.
    if len(row) > 2 and row[-2] == index and row[-3] == here:
        odd *= 0.15
    return odd * frame.weights[index]
