"""The steady tempo of a passage: the tempo at which this player's share of right pitches is the target share.

A Bayesian estimate on a grid over log tempo, with the slope of the player's curve and their lapses as
nuisance. At tempo x a note is right with chance

    (1 - lapse) * logistic(a - slope * ln(x / steady))        a such that it is the target share at x = steady

so that lapses belong to the share that is asked for (Prins 2012 on what happens where they are left out;
Watson & Pelli 1983, from memory, for the grid). Tempi are in the metre's own beat.
"""

from dataclasses import dataclass
from math import ceil, erf, exp, log, log1p, sqrt

from game.coach.numbers import NUMBERS, CoachNumbers

LOWEST_BPM = 20.0
STEP = 0.03
"""Width of a cell, in log tempo: a third of what the sharpest estimates leave open."""
_CELLS = 101
GRID = tuple(log(LOWEST_BPM) + STEP * cell for cell in range(_CELLS))
"""Log tempi, 20 to 402 beats a minute."""

_CRUMB = 1e-9  # left in every cell, so that no surprise is impossible


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """How likely each steady tempo is. One row a pair of slope and lapse, one weight a cell of `GRID`; sum
    1.
    """

    rows: tuple[tuple[float, ...], ...]

    @property
    def weights(self) -> tuple[float, ...]:
        """The chance of each cell, whatever slope and lapse."""
        return tuple(map(sum, zip(*self.rows, strict=True)))

    @property
    def bpm(self) -> float:
        """The estimate: the median."""
        return self.quantile(0.5)

    @property
    def spread(self) -> float:
        """Standard deviation of log tempo."""
        weights = self.weights
        mean = sum(weight * x for weight, x in zip(weights, GRID, strict=True))
        return sqrt(sum(weight * (x - mean) ** 2 for weight, x in zip(weights, GRID, strict=True)))

    def quantile(self, chance: float) -> float:
        """The tempo below which the steady tempo lies with `chance`, weights being even within a cell."""
        so_far = 0.0
        for weight, x in zip(self.weights, GRID, strict=True):
            if so_far + weight >= chance:
                return exp(x + STEP * ((chance - so_far) / weight - 0.5))
            so_far += weight
        return exp(GRID[-1] + STEP / 2)

    def chance_at_least(self, bpm: float) -> float:
        """How likely the steady tempo is `bpm` or more."""
        edge = log(bpm)
        return sum(
            weight * min(max((x + STEP / 2 - edge) / STEP, 0.0), 1.0)
            for weight, x in zip(self.weights, GRID, strict=True)
        )


def prior(bpm: float, spread: float, numbers: CoachNumbers = NUMBERS) -> Belief:
    """Log-normal around `bpm` with `spread`, every slope and lapse of the table equally likely."""
    centre = min(max(log(bpm), GRID[0]), GRID[-1])
    shapes = len(numbers.slopes) * len(numbers.lapses)
    row = [_normal_mass(x, centre, spread) for x in GRID]
    return _belief([row] * shapes)


def share_at(bpm: float, steady_bpm: float, *, slope: float, lapse: float, target_share: float) -> float:
    """The model: the chance that a note is right at `bpm`. `target_share` is below 1 - `lapse`."""
    hold = target_share / (1 - lapse)
    z = log(hold / (1 - hold)) - slope * log(bpm / steady_bpm)
    return (1 - lapse) / (1 + exp(-z))


def updated(belief: Belief, *, bpm: float, right: float, asked: float, numbers: CoachNumbers = NUMBERS) -> Belief:
    """What is believed after `right` of `asked` pitches came right at `bpm`; unchanged when nothing was
    asked.
    """
    if asked <= 0:
        return belief
    wrong = asked - right
    shapes = [(slope, lapse) for slope in numbers.slopes for lapse in numbers.lapses]
    likely = [_log_likelihoods(log(bpm), slope, lapse, numbers.target_share, (right, wrong)) for slope, lapse in shapes]
    most = max(map(max, likely))
    return _belief(
        [
            [weight * exp(value - most) for weight, value in zip(row, values, strict=True)]
            for row, values in zip(belief.rows, likely, strict=True)
        ]
    )


def drifted(belief: Belief, spread: float) -> Belief:
    """What is believed when the player may have changed by `spread`, up or down: the variances add."""
    passes = max(1, ceil(2 * (spread / STEP) ** 2))
    to_each_side = (spread / STEP) ** 2 / (2 * passes)
    rows = [list(row) for row in belief.rows]
    for _ in range(passes):
        rows = [_blurred(row, to_each_side) for row in rows]
    return _belief(rows)


def _log_likelihoods(
    x: float, slope: float, lapse: float, target_share: float, counts: tuple[float, float]
) -> list[float]:
    """Log likelihood of right and wrong counts at log tempo x, for each steady tempo of the grid.

    With odds = exp(slope * (x - steady) - logit(hold)) the share is (1 - lapse) / (1 + odds). From cell to
    cell the odds change by one factor, which saves most of the exponentials.
    """
    hold = target_share / (1 - lapse)
    right, wrong = counts
    asked, always = right + wrong, right * log(1 - lapse)
    odds = exp(slope * (x - GRID[0])) * (1 - hold) / hold
    factor = exp(-slope * STEP)
    values = []
    for _ in GRID:
        values.append(always + wrong * log(lapse + odds) - asked * log1p(odds))
        odds *= factor
    return values


def _belief(rows: list[list[float]]) -> Belief:
    """Rows made to sum to 1, with a crumb in every cell."""
    total = sum(map(sum, rows))
    crumb = total * _CRUMB
    whole = total + crumb * len(rows) * _CELLS
    return Belief(rows=tuple(tuple((weight + crumb) / whole for weight in row) for row in rows))


def _normal_mass(x: float, centre: float, spread: float) -> float:
    """The part of a normal distribution that falls into the cell around x."""
    scale = spread * sqrt(2)
    return (erf((x + STEP / 2 - centre) / scale) - erf((x - STEP / 2 - centre) / scale)) / 2


def _blurred(row: list[float], to_each_side: float) -> list[float]:
    """A row after one step of a random walk; what would leave the grid stays at its ends."""
    padded = [row[0], *row, row[-1]]
    stay = 1 - 2 * to_each_side
    return [
        stay * here + to_each_side * (before + after)
        for before, here, after in zip(padded, row, padded[2:], strict=False)
    ]
