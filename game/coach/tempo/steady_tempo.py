"""The steady tempo of a passage: the tempo at which this player's share of right pitches is the target share.

A Bayesian estimate on a grid over log tempo, with the slope of the player's curve and their lapses as
nuisance. At tempo x a note is right with chance

    (1 - lapse) * logistic(a - slope * ln(x / steady))        a such that it is the target share at x = steady

so that lapses belong to the share that is asked for (Prins 2012 on what happens where they are left out;
Watson & Pelli 1983, from memory, for the grid). Tempi are in the metre's own beat.

A take is one thing, not so many notes that know nothing of each other: its right notes are beta-binomial, and now and
then it tells nothing, because the mind was elsewhere (any number of right notes is then equally likely). One bad take
among good ones is told as that; a second makes a change of the player the likelier story. For they change in small
steps from take to take, and seldom by a lot at once.

Chosen by the figures of `tests/bench/coach.py` (32 notes, one sitting). After one half-wrong take a settled player has
their tempo again after 2 takes, without inattention after 8; a fall of 15 % is followed after 3.3 takes, without the
leaps after 4.7. The mixture does the work, not the beta-binomial: ten times the correlation makes it 3.9 takes, and
bursts of inattention keep the tempo down no less. More inattention and leaps (0.15 and 0.12) make it 2.8 takes, but
then the estimate of a steady player is off by 12 % at worst, not 9.
"""

from functools import lru_cache
from itertools import product
from math import ceil, erf, exp, lgamma, log, pi, sqrt

import numpy as np
import numpy.typing as npt

from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.tempo.belief import Belief

LOWEST_BPM = 20.0
STEP = 0.03
"""Width of a cell, in log tempo: a third of what the sharpest estimates leave open."""
_CELLS = 101
GRID = log(LOWEST_BPM) + STEP * np.arange(_CELLS)
"""Log tempi, 20 to 402 beats a minute."""

Row = npt.NDArray[np.float64]
"""Numbers of float64: a row has one for each cell of `GRID`, a table one row for each pair of slope and lapse."""

_CRUMB = 1e-9  # left in every cell, so that no surprise is impossible


def rows_of(belief: Belief) -> Row:
    """One row a pair of slope and lapse, one chance a cell of `GRID`; sum 1."""
    return np.frombuffer(belief.cells, dtype=np.float32).reshape(-1, _CELLS).astype(np.float64)


def weights_of(belief: Belief) -> Row:
    """The chance of each cell, whatever slope and lapse."""
    return _weights(rows_of(belief))


def quantile(belief: Belief, chance: float) -> float:
    """The tempo below which the steady tempo lies with `chance`, weights being even within a cell."""
    return _quantile(weights_of(belief), chance)


def chance_at_least(belief: Belief, bpm: float) -> float:
    """How likely the steady tempo is `bpm` or more."""
    parts = np.clip((GRID + STEP / 2 - log(bpm)) / STEP, 0.0, 1.0)
    return float(parts @ weights_of(belief))


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
    asked. Half notes are notes that count half.
    """
    if asked <= 0:
        return belief
    return belief_of(rows_of(belief) * (_attentive(bpm, right, asked, numbers) + _inattentive(asked, numbers)))


def chance_of_inattention(
    belief: Belief, *, bpm: float, right: float, asked: float, numbers: CoachNumbers = NUMBERS
) -> float:
    """How likely a take, by what was believed before it, tells nothing of the tempo; 1 when nothing was asked."""
    if asked <= 0:
        return 1.0
    attentive = float((rows_of(belief) * _attentive(bpm, right, asked, numbers)).sum())
    inattentive = _inattentive(asked, numbers)
    return inattentive / (inattentive + attentive)


def _attentive(bpm: float, right: float, asked: float, numbers: CoachNumbers) -> Row:
    shapes = numbers.slopes, numbers.lapses, numbers.target_share
    return (1 - numbers.inattention) * _chances(bpm, right, asked, shapes, numbers.overdispersion)


@lru_cache(maxsize=256)
def _chances(
    bpm: float, right: float, asked: float, shapes: tuple[tuple[float, ...], tuple[float, ...], float], spread: float
) -> Row:
    """How likely so many right of all asked are, for each of `_shares`. Each take is looked at more than once."""
    chances: Row = np.exp(_log_beta_binomial(right, asked, _shares(bpm, *shapes), spread))
    return chances


def _inattentive(asked: float, numbers: CoachNumbers) -> float:
    return numbers.inattention / (asked + 1)


def drifted_belief(belief: Belief, spread: float) -> Belief:
    """What is believed when the player may have changed by `spread`, up or down: the variances add."""
    passes = max(1, ceil(2 * (spread / STEP) ** 2))
    to_each_side = (spread / STEP) ** 2 / (2 * passes)
    rows = rows_of(belief)
    for _ in range(passes):
        rows = _blurred(rows, to_each_side)
    return belief_of(rows)


def changed_belief(belief: Belief, numbers: CoachNumbers = NUMBERS) -> Belief:
    """What is believed when, seldom, the player may have changed by a lot at once."""
    rows, chance = rows_of(belief), numbers.change_chance
    return belief_of((1 - chance) * rows + chance * (rows @ _leaps(numbers.change_spread)))


@lru_cache(maxsize=8)
def _leaps(spread: float) -> Row:
    """How likely each cell (a row) leads to each other; what would leave the grid goes to those that are left."""
    chances: Row = np.exp(-(((GRID[:, None] - GRID) / spread) ** 2) / 2)
    chances /= chances.sum(axis=1, keepdims=True)
    return chances


@lru_cache(maxsize=64)
def _shares(bpm: float, slopes: tuple[float, ...], lapses: tuple[float, ...], target_share: float) -> Row:
    """The share of right notes at `bpm`, for each pair of slope and lapse (a row) and each steady tempo of the grid.
    The same few tempi are played again and again.
    """
    slope, lapse = (np.array(values)[:, None] for values in zip(*product(slopes, lapses), strict=True))
    hold = target_share / (1 - lapse)
    odds = np.exp(slope * (log(bpm) - GRID)) * (1 - hold) / hold
    share: Row = np.clip((1 - lapse) / (1 + odds), _CRUMB, 1 - _CRUMB)
    return share


def _log_beta_binomial(right: float, asked: float, share: Row, correlation: float) -> Row:
    """The log chance of so many right of all asked, the share itself varying from take to take so that any two notes
    of one correlate by `correlation` (above 0).
    """
    weight = 1 / correlation - 1
    often, seldom = share * weight, (1 - share) * weight
    ways = lgamma(asked + 1) - lgamma(right + 1) - lgamma(asked - right + 1)
    apart = lgamma(weight + asked) - lgamma(weight)
    mixed: Row = _risen(often, right) + _risen(seldom, asked - right) + (ways - apart)
    return mixed


def _risen(x: Row, by: float) -> Row:
    """The logarithm of gamma(x + by) over gamma(x)."""
    return _log_gamma(x + by) - _log_gamma(x)


def _log_gamma(x: Row) -> Row:
    """By Stirling's series, eight higher and then down again: right to some eleven digits for every x above 0."""
    below = x.copy()
    for up in range(1, 8):
        below *= x + up
    high = x + 8
    part = 1 / high
    square = part * part
    rest = part * (1 / 12 - square * (1 / 360 - square / 1260))
    series: Row = (high - 0.5) * np.log(high) - high + 0.5 * log(2 * pi) + rest
    return series - np.log(below)


def _normal_mass(x: float, centre: float, spread: float) -> float:
    """The part of a normal distribution that falls into the cell around x."""
    scale = spread * sqrt(2)
    return (erf((x + STEP / 2 - centre) / scale) - erf((x - STEP / 2 - centre) / scale)) / 2


def _blurred(rows: Row, to_each_side: float) -> Row:
    """The rows after one step of a random walk; what would leave the grid stays at its ends."""
    padded = np.concatenate((rows[:, :1], rows, rows[:, -1:]), axis=1)
    blurred: Row = (1 - 2 * to_each_side) * rows + to_each_side * (padded[:, :-2] + padded[:, 2:])
    return blurred
