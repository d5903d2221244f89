"""The pulse of a take without a click: which note was played for which, and how fast the player was going.

A beam search over what was played, a dynamic programme with the less likely hypotheses left out. Each
hypothesis says which written note was read last, when that was in the player's own pulse, and how long a
quarter note is just now. A note moves the pulse a little; one that comes far off either was misplaced in a
steady pulse, or the player waited and goes on from there, whichever makes the better sense of what follows.

Spread grows with the interval: about 2 % of it in experts, 4 % and more in beginners (mem: Repp 2005). The
other numbers are ours.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from math import log1p, log2
from typing import NamedTuple

from game.judging.following.follow_numbers import EXTRA, MISSED, WRONG

_FIXED_SPREAD_S, _SPREAD_SHARE = 0.020, 0.06
_PHASE_GAIN, _TEMPO_GAIN, _MOST_TEMPO_STEP = 0.5, 0.3, 0.3
_SHIFT_COST, _STOP_COST, _JUMP_COST = 5.0, 6.0, 12.0
_LEAST_STOP_S = 0.6
_FARTHEST_STEP, _FARTHEST_JUMP, _PASSED_EACH = 4, 64, 0.05
"""Each note that a jump passes over costs a little, ahead or back: among places alike the nearest was gone to."""

_BEAM, _BEAM_WIDTH = 32, 18.0
_PERIODS = tuple(0.25 * 1.15**step for step in range(17))
"""First guesses at a quarter note, seconds: 240 down to 26 a minute."""

_PERIOD_WEIGHT = 1.5
"""Cost of each doubling away from the quarter note that the length of the whole take suggests."""


class PulseStepKind(Enum):
    """How the player came to a note: in the pulse, off it and on from there, after a stop, or from
    elsewhere.
    """

    IN_PULSE = "in pulse"
    SHIFTED = "shifted"
    STOPPED = "stopped"
    JUMPED = "jumped"


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeRows:
    """What is written and what was played in a take in free time, as rows of numbers.

    `onsets` are in quarter notes, `asked` and `sounding` MIDI numbers, `times_s` rising.
    """

    onsets: Sequence[float]
    asked: Sequence[int]
    times_s: Sequence[float]
    sounding: Sequence[int]
    pitch_counts: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PulseStep:
    """Played note `at` answers written note `index` (from 0); `offset_s` is how far it came from its pulse."""

    index: int
    at: int
    kind: PulseStepKind
    offset_s: float
    quarter_s: float


class _Guess(NamedTuple):
    """A tuple rather than a dataclass, for many are made and most thrown away."""

    cost: float
    left: int
    due_s: float
    quarter_s: float
    step: PulseStep | None
    before: "_Guess | None"


def pulse_steps(rows: FreeRows) -> tuple[PulseStep, ...]:
    """The likeliest reading of the whole take, one step for each played note that answers something."""
    if not rows.times_s or not rows.onsets:
        return ()
    by_pitch = defaultdict(list)
    for index, pitch in enumerate(rows.asked):
        by_pitch[pitch].append(index)
    guesses = _beginnings(rows)
    for at in range(len(rows.times_s)):
        guesses = _after_note(rows, by_pitch, guesses, at)
    steps = []
    guess: _Guess | None = guesses[0]
    while guess is not None:
        if guess.step is not None:
            steps.append(guess.step)
        guess = guess.before
    return tuple(steps[::-1])


def _beginnings(rows: FreeRows) -> list[_Guess]:
    """Nothing read yet, at each possible tempo."""
    quarters = max(rows.onsets[-1] - rows.onsets[0], 0.25)
    suggested_s = max((rows.times_s[-1] - rows.times_s[0]) / quarters, 0.1)
    return [
        _Guess(_PERIOD_WEIGHT * abs(log2(period_s / suggested_s)), -1, 0.0, period_s, None, None)
        for period_s in (*_PERIODS, suggested_s)
    ]


def _after_note(rows: FreeRows, by_pitch: Mapping[int, list[int]], guesses: Sequence[_Guess], at: int) -> list[_Guess]:
    """The best guesses after one more played note, best first."""
    best: dict[tuple[int, int, int], _Guess] = {}
    for guess in guesses:
        for offered in _from(rows, by_pitch, guess, at, may_jump=guess is guesses[0]):
            behind = round((rows.times_s[at] - offered.due_s) / 0.05) if offered.step is not None else 0
            key = (offered.left, round(8 * log2(offered.quarter_s)), behind)
            known = best.get(key)
            if known is None or offered.cost < known.cost:
                best[key] = offered
    ranked = sorted(best.values(), key=lambda guess: guess.cost)[:_BEAM]
    return [guess for guess in ranked if guess.cost <= ranked[0].cost + _BEAM_WIDTH]


def _from(
    rows: FreeRows, by_pitch: Mapping[int, list[int]], guess: _Guess, at: int, *, may_jump: bool
) -> Iterator[_Guess]:
    """What a played note may mean to a guess."""
    yield _Guess(guess.cost + EXTRA, guess.left, guess.due_s, guess.quarter_s, None, guess)
    for passed in range(_FARTHEST_STEP):
        index = guess.left + 1 + passed
        if index >= len(rows.onsets):
            break
        right = not rows.pitch_counts or rows.asked[index] == rows.sounding[at]
        cost = guess.cost + passed * MISSED + (0.0 if right else WRONG)
        if guess.left < 0:
            yield _went(guess, cost, index, at, PulseStepKind.IN_PULSE, 0.0, (rows.times_s[at], guess.quarter_s))
        else:
            yield from _onward(rows, guess, cost, index, at)
    if may_jump and rows.pitch_counts and guess.left >= 0:
        for index in by_pitch.get(rows.sounding[at], ()):
            passed = index - guess.left - 1
            if abs(passed) <= _FARTHEST_JUMP and not 0 <= passed < _FARTHEST_STEP:
                cost = guess.cost + _JUMP_COST + _PASSED_EACH * abs(passed)
                yield _went(guess, cost, index, at, PulseStepKind.JUMPED, 0.0, (rows.times_s[at], guess.quarter_s))


def _onward(rows: FreeRows, guess: _Guess, cost: float, index: int, at: int) -> Iterator[_Guess]:
    """The ways to come from the note read last to note `index`."""
    at_s, quarter_s = rows.times_s[at], guess.quarter_s
    interval_s = max((rows.onsets[index] - rows.onsets[guess.left]) * quarter_s, 0.02)
    due_s = guess.due_s + interval_s
    offset_s = at_s - due_s
    spread_s = _FIXED_SPREAD_S + _SPREAD_SHARE * interval_s
    widest_s = 0.8 * interval_s + 0.05
    stop_s = max(_LEAST_STOP_S, quarter_s)
    if abs(offset_s) <= widest_s:
        in_pulse = cost + 1.5 * log1p((offset_s / spread_s) ** 2 / 2)
        step = max(-_MOST_TEMPO_STEP, min(_MOST_TEMPO_STEP, offset_s / interval_s))
        followed_s = quarter_s * (1 + _TEMPO_GAIN * min(1.0, interval_s / quarter_s) * step)
        pulse = (due_s + _PHASE_GAIN * offset_s, followed_s)
        yield _went(guess, in_pulse, index, at, PulseStepKind.IN_PULSE, offset_s, pulse)
    if -widest_s <= offset_s <= stop_s and abs(offset_s) > 2 * spread_s:
        yield _went(guess, cost + _SHIFT_COST, index, at, PulseStepKind.SHIFTED, offset_s, (at_s, quarter_s))
    if offset_s > stop_s:
        yield _went(guess, cost + _STOP_COST, index, at, PulseStepKind.STOPPED, offset_s, (at_s, quarter_s))


def _went(
    guess: _Guess, cost: float, index: int, at: int, kind: PulseStepKind, offset_s: float, pulse: tuple[float, float]
) -> _Guess:
    """`pulse` is when the note was in it, and the quarter note from there on."""
    due_s, quarter_s = pulse
    step = PulseStep(index=index, at=at, kind=kind, offset_s=offset_s, quarter_s=quarter_s)
    return _Guess(cost, index, due_s, quarter_s, step, guess)
