"""When a measure that practice brings down will have reached a limit: told only where the days earn it.

The curve is an exponential to an asymptote, a + b exp(-c t), over calendar days: for learners looked at one by one it
describes practice better than the power law does (Heathcote, Brown & Mewhort 2000, "The power law repealed",
Psychonomic Bulletin & Review 7(2), 185-207). It is fitted by weighted least squares, a and b for each of a row of
rates c in closed form; where the limit is crossed in four cases of five is found by fitting it again to days drawn
with the scatter that was seen (parametric bootstrap). Pure; the bounds below are ours but where a source stands.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import numpy.typing as npt

FEWEST_DAYS, SHORTEST_SPAN = 10, 14
"""Days with a measure, and calendar days between the first and the last."""

MOST_DAYS = 120
"""Older days say little of how it goes now."""

CLEAR_MARGIN = 10.0
"""By how much the exponential must beat the constant in AICc: from ten on the other has essentially no support
(Burnham & Anderson 2002, section 2.6; mem).
"""

FARTHEST = 1.0
"""No further ahead than the days reach back, times this."""

DRAWS, RANGE = 400, 0.80
MOST_WEIGHT = 100.0
"""A day counts for no more than one with so many notes: days differ by more than the chance of single notes."""

_RATES = 60
Row = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayMeasure:
    """What was measured on a day (not negative, the less the better), from so many notes."""

    day: date
    value: float
    notes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastCurve:
    """`asymptote + gain * exp(-rate * t)`, t in days from the first; `loss` is the weighted sum of squares left."""

    asymptote: float
    gain: float
    rate: float
    loss: float

    def at(self, days: float) -> float:
        """The value so many days after the first."""
        return self.asymptote + self.gain * math.exp(-self.rate * days)

    def reaches(self, limit: float) -> float:
        """After how many days the limit is reached; infinite where it never is."""
        if self.asymptote >= limit or self.gain <= 0:
            return math.inf
        return max(0.0, math.log(self.gain / (limit - self.asymptote)) / self.rate)


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """The day on which `limit` is reached by the curve, and the range in which it lies in four cases of five, seen from
    `days` measures of which the last is `now` by the curve.
    """

    limit: float
    now: float
    day: date
    earliest: date
    latest: date
    days: int


def forecast(measures: Sequence[DayMeasure], limit: float, *, seed: int = 1) -> Forecast | None:
    """When the limit will be reached; None where it is reached already, or where the days do not tell.

    `measures` are a day each, oldest first.
    """
    measures = [measure for measure in measures if measure.notes > 0][-MOST_DAYS:]
    if len(measures) < FEWEST_DAYS or (measures[-1].day - measures[0].day).days < SHORTEST_SPAN:
        return None
    first = measures[0].day
    days = np.array([(measure.day - first).days for measure in measures], dtype=np.float64)
    values = np.array([measure.value for measure in measures])
    weights = np.array([min(MOST_WEIGHT, measure.notes) for measure in measures], dtype=np.float64)
    curve = fitted(days, values, weights)
    span = float(days[-1])
    reached = curve.reaches(limit)
    if curve.at(span) <= limit or reached > span * (1 + FARTHEST):
        return None
    if _aicc(_constant_loss(values, weights), len(days), 1) - _aicc(curve.loss, len(days), 3) < CLEAR_MARGIN:
        return None
    low, high = _range(days, weights, curve, limit, seed)
    if high > span * (1 + FARTHEST):
        return None
    # Where there is hardly any scatter the row of rates is coarser than the range.
    low, high = min(low, reached), max(high, reached)
    return Forecast(
        limit=limit,
        now=curve.at(span),
        day=_after(first, reached),
        earliest=_after(first, max(span, low)),
        latest=_after(first, max(span, high)),
        days=len(days),
    )


def fitted(days: Row, values: Row, weights: Row) -> ForecastCurve:
    """The curve of least weighted squares, its asymptote not negative and its gain neither. `days` rise from 0."""
    rates = _rates_for(float(days[-1]))
    for _ in range(4):
        asymptotes, gains, losses = _fits(rates, days, values[None, :], weights)
        best = int(np.argmin(losses[:, 0]))
        low, high = rates[max(0, best - 1)], rates[min(len(rates) - 1, best + 1)]
        found = ForecastCurve(
            asymptote=float(asymptotes[best, 0]),
            gain=float(gains[best, 0]),
            rate=float(rates[best]),
            loss=float(losses[best, 0]),
        )
        rates = np.geomspace(low, high, _RATES)
    return found


def _rates_for(span: float) -> Row:
    """Rates from one that looks straight over the days to one that is over after two of them."""
    return np.geomspace(0.05 / span, 1.5, _RATES)


def _fits(rates: Row, days: Row, values: Row, weights: Row) -> tuple[Row, Row, Row]:
    """Asymptote, gain and loss for each rate and each row of values (both first axes), in closed form."""
    falls = np.exp(-rates[:, None] * days[None, :])
    total = weights.sum()
    fall_mean = (falls @ weights / total)[:, None]
    value_mean = (values @ weights / total)[None, :]
    spread = ((falls - fall_mean) ** 2 @ weights)[:, None]
    both = ((falls - fall_mean) * weights) @ (values - value_mean.T).T
    gains = np.maximum(0.0, both / np.maximum(spread, 1e-12))
    asymptotes = value_mean - gains * fall_mean
    through_zero = (falls * weights) @ values.T / (falls**2 @ weights)[:, None]
    below = asymptotes < 0
    gains = np.where(below, through_zero, gains)
    asymptotes = np.where(below, 0.0, asymptotes)
    square = (weights * values**2).sum(axis=1)[None, :]
    cross = (falls * weights) @ values.T
    fall_square = (falls**2 @ weights)[:, None]
    losses = (
        square
        - 2 * asymptotes * value_mean * total
        - 2 * gains * cross
        + total * asymptotes**2
        + 2 * asymptotes * gains * fall_mean * total
        + gains**2 * fall_square
    )
    return asymptotes, gains, np.maximum(losses, 0.0)


def _range(days: Row, weights: Row, curve: ForecastCurve, limit: float, seed: int) -> tuple[float, float]:
    """After how many days the limit is reached, at the two ends of the range."""
    deviation = np.sqrt(curve.loss / (len(days) - 3) / weights)
    expected = curve.asymptote + curve.gain * np.exp(-curve.rate * days)
    drawn = np.random.default_rng(seed).normal(expected, deviation, (DRAWS, len(days)))
    rates = _rates_for(float(days[-1]))
    asymptotes, gains, losses = _fits(rates, days, drawn, weights)
    best = np.argmin(losses, axis=0)
    rows = np.arange(DRAWS)
    asymptotes, gains, rates = asymptotes[best, rows], gains[best, rows], rates[best]
    reached = np.full(DRAWS, np.inf)
    possible = (asymptotes < limit) & (gains > 0)
    reached[possible] = np.log(gains[possible] / (limit - asymptotes[possible])) / rates[possible]
    reached.sort()
    outside = round(DRAWS * (1 - RANGE) / 2)
    return float(reached[outside]), float(reached[-1 - outside])


def _constant_loss(values: Row, weights: Row) -> float:
    mean = np.average(values, weights=weights)
    return float((weights * (values - mean) ** 2).sum())


def _aicc(loss: float, count: int, curve_numbers: int) -> float:
    """AIC with its correction for few days (Hurvich & Tsai 1989); the scatter is one more number that was fitted."""
    fitted_numbers = curve_numbers + 1
    correction = 2 * fitted_numbers * (fitted_numbers + 1) / (count - fitted_numbers - 1)
    return count * math.log(max(loss, 1e-12) / count) + 2 * fitted_numbers + correction


def _after(first: date, days: float) -> date:
    return first + timedelta(days=math.ceil(days - 1e-9))
