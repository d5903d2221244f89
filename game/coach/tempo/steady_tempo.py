"""The steady tempo of a passage: the tempo at which this player's share of right pitches is the target share.

A Bayesian estimate on a grid over log tempo, with the slope of the player's curve and their lapses as
nuisance. At tempo x a note is right with chance

    (1 - lapse) * logistic(a - slope * ln(x / steady))        a such that it is the target share at x = steady

so that lapses belong to the share that is asked for (Prins 2012 on what happens where they are left out;
Watson & Pelli 1983, from memory, for the grid). Tempi are in the metre's own beat.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import ceil, erf, exp, log, sqrt

import numpy as np
import numpy.typing as npt

from game.coach.numbers import NUMBERS, CoachNumbers

LOWEST_BPM = 20.0
STEP = 0.03
"""Width of a cell, in log tempo: a third of what the sharpest estimates leave open."""
_CELLS = 101
GRID = log(LOWEST_BPM) + STEP * np.arange(_CELLS)
"""Log tempi, 20 to 402 beats a minute."""

Row = npt.NDArray[np.float64]
"""Numbers of float64: a row has one for each cell of `GRID`, a table one row for each pair of slope and lapse."""

_CRUMB = 1e-9  # left in every cell, so that no surprise is impossible


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """How likely each steady tempo is. Make one with `belief_of`.

    `cells` are the chances, a row of `GRID` for each pair of slope and lapse, packed as 32-bit floats: after some years
    there are thousands of beliefs. `bpm` is the estimate, their median; `spread` the standard deviation of log tempo.
    """

    cells: bytes
    bpm: float
    spread: float

    @property
    def rows(self) -> Row:
        """One row a pair of slope and lapse, one chance a cell of `GRID`; sum 1."""
        return np.frombuffer(self.cells, dtype=np.float32).reshape(-1, _CELLS).astype(np.float64)

    @property
    def weights(self) -> Row:
        """The chance of each cell, whatever slope and lapse."""
        return _weights(self.rows)

    def quantile(self, chance: float) -> float:
        """The tempo below which the steady tempo lies with `chance`, weights being even within a cell."""
        return _quantile(self.weights, chance)

    def chance_at_least(self, bpm: float) -> float:
        """How likely the steady tempo is `bpm` or more."""
        parts = np.clip((GRID + STEP / 2 - log(bpm)) / STEP, 0.0, 1.0)
        return float(parts @ self.weights)


def belief_of(rows: Row) -> Belief:
    """The belief with these chances, one row a pair of slope and lapse, one number a cell of `GRID`. They are made to
    sum to 1, with a crumb in every cell.
    """
    total = float(rows.sum())
    crumb = total * _CRUMB
    packed = ((rows + crumb) / (total + crumb * rows.size)).astype(np.float32)
    weights = _weights(packed.astype(np.float64))
    mean = float(weights @ GRID)
    return Belief(cells=packed.tobytes(), bpm=_quantile(weights, 0.5), spread=sqrt(float(weights @ (GRID - mean) ** 2)))


def _weights(rows: Row) -> Row:
    """The sum of the rows, made to 1 once more: 32-bit floats leave it off by a little."""
    weights: Row = rows.sum(axis=0)
    weights /= weights.sum()
    return weights


def _quantile(weights: Row, chance: float) -> float:
    up_to = np.cumsum(weights)
    cell = min(int(np.searchsorted(up_to, chance)), _CELLS - 1)
    missing = chance - (up_to[cell] - weights[cell])
    return exp(float(GRID[cell] + STEP * (missing / weights[cell] - 0.5)))


def prior(bpm: float, spread: float, numbers: CoachNumbers = NUMBERS) -> Belief:
    """Log-normal around `bpm` with `spread`, every slope and lapse of the table equally likely."""
    centre = min(max(log(bpm), GRID[0]), GRID[-1])
    shapes = len(numbers.slopes) * len(numbers.lapses)
    row = [_normal_mass(x, centre, spread) for x in GRID]
    return belief_of(np.array([row] * shapes))


def updated_belief(
    belief: Belief, *, bpm: float, right: float, asked: float, numbers: CoachNumbers = NUMBERS
) -> Belief:
    """What is believed after `right` of `asked` pitches came right at `bpm`; unchanged when nothing was
    asked.
    """
    if asked <= 0:
        return belief
    always, log_wrong, log_all = _curves(bpm, numbers.slopes, numbers.lapses, numbers.target_share)
    likely = right * always + (asked - right) * log_wrong - asked * log_all
    return belief_of(belief.rows * np.exp(likely - likely.max()))


def drifted_belief(belief: Belief, spread: float) -> Belief:
    """What is believed when the player may have changed by `spread`, up or down: the variances add."""
    passes = max(1, ceil(2 * (spread / STEP) ** 2))
    to_each_side = (spread / STEP) ** 2 / (2 * passes)
    rows = belief.rows
    for _ in range(passes):
        rows = _blurred(rows, to_each_side)
    return belief_of(rows)


@lru_cache(maxsize=64)
def _curves(
    bpm: float, slopes: tuple[float, ...], lapses: tuple[float, ...], target_share: float
) -> tuple[Row, Row, Row]:
    """What the log likelihood of answers at `bpm` is made of, for each pair of slope and lapse (a row) and each steady
    tempo of the grid: right answers times the first, wrong ones times the second, all of them times minus the third.
    The same few tempi are played again and again.

    With odds = exp(slope * (x - steady) - logit(hold)) the share is (1 - lapse) / (1 + odds).
    """
    slope, lapse = (np.array(values)[:, None] for values in zip(*product(slopes, lapses), strict=True))
    hold = target_share / (1 - lapse)
    odds = np.exp(slope * (log(bpm) - GRID)) * (1 - hold) / hold
    return np.log(1 - lapse), np.log(lapse + odds), np.log1p(odds)


def _normal_mass(x: float, centre: float, spread: float) -> float:
    """The part of a normal distribution that falls into the cell around x."""
    scale = spread * sqrt(2)
    return (erf((x + STEP / 2 - centre) / scale) - erf((x - STEP / 2 - centre) / scale)) / 2


def _blurred(rows: Row, to_each_side: float) -> Row:
    """The rows after one step of a random walk; what would leave the grid stays at its ends."""
    padded = np.concatenate((rows[:, :1], rows, rows[:, -1:]), axis=1)
    blurred: Row = (1 - 2 * to_each_side) * rows + to_each_side * (padded[:, :-2] + padded[:, 2:])
    return blurred
