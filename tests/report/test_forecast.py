"""Forecasts are made only where the days earn them, and their ranges hold what comes."""

import math
from datetime import date, timedelta

import numpy as np
import pytest
from scipy.optimize import curve_fit

from game.report.forecast import FEWEST_DAYS, RANGE, DayMeasure, ForecastCurve, fitted, forecast
from tests.sampling import how_many

FIRST = date(2026, 1, 5)
LIMIT = 1.5


def _learner(rng, curve, count, scatter):
    """Days of practice with pauses between; each measure strays by a share of its value."""
    measures, at = [], 0
    for _ in range(count):
        value = curve.at(at)
        measured = max(0.0, float(rng.normal(value, scatter * value)))
        measures.append(DayMeasure(day=FIRST + timedelta(days=at), value=measured, notes=int(rng.integers(30, 120))))
        at += int(rng.choice([1, 1, 1, 1, 2, 3]))
    return measures


def _curve(rng, asymptotes):
    return ForecastCurve(
        asymptote=float(rng.uniform(*asymptotes)),
        gain=float(rng.uniform(1.5, 3.5)),
        rate=float(rng.uniform(0.01, 0.06)),
        loss=0.0,
    )


def _smooth(count=30, *, asymptote=0.8, gain=2.5, rate=0.03, until=None):
    curve = ForecastCurve(asymptote=asymptote, gain=gain, rate=rate, loss=0.0)
    measures = [
        DayMeasure(day=FIRST + timedelta(days=at), value=curve.at(at) * (1.01 if at % 2 else 0.99), notes=50)
        for at in range(count)
    ]
    return curve, measures[:until]


@pytest.mark.parametrize("seed", range(6))
def test_the_curve_is_the_one_that_scipy_finds(seed):
    """Against `scipy.optimize.curve_fit` (SciPy 1.17), an independent least-squares search from a start near by."""
    rng = np.random.default_rng(seed)
    days = np.sort(rng.choice(np.arange(1, 60), 30, replace=False)).astype(float)
    days[0] = 0.0
    weights = rng.uniform(20, 100, 30)
    values = 0.7 + 2.4 * np.exp(-0.05 * days) + rng.normal(0, 1, 30) / np.sqrt(weights)

    def shape(at, asymptote, gain, rate):
        return asymptote + gain * np.exp(-rate * at)

    theirs, _ = curve_fit(
        shape, days, values, p0=(0.7, 2.4, 0.05), sigma=1 / np.sqrt(weights), bounds=([0, 0, 1e-4], [9, 9, 1.5])
    )
    loss = float((weights * (values - shape(days, *theirs)) ** 2).sum())
    ours = fitted(days, values, weights)
    assert ours.loss == pytest.approx(loss, rel=1e-4)
    assert ours.loss == pytest.approx(float((weights * (values - [ours.at(at) for at in days]) ** 2).sum()), rel=1e-6)
    assert (ours.asymptote, ours.gain, ours.rate) == pytest.approx(tuple(theirs), rel=0.03, abs=0.01)


def test_the_day_is_where_the_curve_crosses_the_limit():
    """0.8 + 2.5 exp(-0.03 t) is 1.5 at t = ln(2.5 / 0.7) / 0.03 = 42.4 days."""
    curve, measures = _smooth()
    assert curve.reaches(LIMIT) == pytest.approx(42.4, abs=0.05)
    found = forecast(measures, LIMIT)
    assert abs((found.day - FIRST).days - 43) <= 3
    assert found.earliest <= found.day <= found.latest
    assert found.now == pytest.approx(curve.at(29), rel=0.02)
    assert found == forecast(measures, LIMIT)


def test_the_range_holds_the_true_day_of_simulated_learners_at_least_as_often_as_it_says():
    rng = np.random.default_rng(9)
    told = inside = possible = 0
    for _ in range(how_many(250, by_default=150)):
        curve = _curve(rng, (0.4, 1.3))
        measures = _learner(rng, curve, int(rng.integers(12, 60)), 0.07)
        span = (measures[-1].day - FIRST).days
        possible += span < curve.reaches(LIMIT) <= 2 * span
        found = forecast(measures, LIMIT)
        if found:
            told += 1
            true_day = max(FIRST + timedelta(days=math.ceil(curve.reaches(LIMIT))), measures[-1].day)
            inside += found.earliest <= true_day <= found.latest
    assert told > 0.2 * possible
    assert inside / told >= RANGE


@pytest.mark.parametrize(("asymptotes", "gain"), [((1.8, 2.3), None), ((1.6, 3.0), 0.0)])
def test_who_stays_above_the_limit_is_hardly_ever_promised_it(asymptotes, gain):
    """Learners whose curve ends above it, and learners who do not change at all."""
    rng = np.random.default_rng(4)
    told, learners = 0, how_many(200, by_default=40)
    for _ in range(learners):
        curve = _curve(rng, asymptotes)
        if gain is not None:
            curve = ForecastCurve(asymptote=curve.asymptote, gain=gain, rate=curve.rate, loss=0.0)
        told += forecast(_learner(rng, curve, int(rng.integers(12, 50)), 0.12), LIMIT) is not None
    assert told <= learners / 50


def test_few_days_a_reached_limit_and_one_far_ahead_are_not_told():
    _, measures = _smooth()
    assert forecast(measures[: FEWEST_DAYS - 1], LIMIT) is None
    assert forecast(measures[:12], LIMIT) is None, "they span less than two weeks"
    assert forecast(_smooth(80)[1], LIMIT) is None, "reached already"
    assert forecast(measures, 0.85) is None, "over a hundred days ahead"
    assert forecast([], LIMIT) is None
