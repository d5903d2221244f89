"""Forms in which the share of right notes may fall with tempo, for learners whom no model of ours describes.

Each draws a function of log tempo over steady tempo, and is 0.90 at the steady tempo.
"""

from collections.abc import Callable
from math import atan, exp, log, pi, tan
from random import Random

Curve = Callable[[float], float]


def _logistic(z: float) -> float:
    return 1 / (1 + exp(-max(min(z, 500.0), -500.0)))


def _logit(share: float) -> float:
    return log(share / (1 - share))


def _moved(curve: Curve) -> Curve:
    """The curve moved to where it is 0.90 at 0."""
    low, high = -3.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if curve(middle) > 0.9 else (low, middle)
    return lambda x: curve(x + low)


def smooth(rng: Random) -> Curve:
    slope, reach = exp(rng.uniform(log(5), log(16))), 1 - rng.uniform(0, 0.03)
    at = _logit(0.9 / reach)
    return lambda x: reach * _logistic(at - slope * x)


def long_tailed(rng: Random) -> Curve:
    slope, reach = exp(rng.uniform(log(5), log(16))), 1 - rng.uniform(0, 0.02)
    hold = 0.9 / reach
    at = tan(pi * (hold - 0.5))
    rate = hold * (1 - hold) * slope * pi * (1 + at * at)
    return lambda x: reach * (0.5 + atan(at - rate * x) / pi)


def linear(rng: Random) -> Curve:
    rate, top = rng.uniform(0.5, 1.6), rng.uniform(0.96, 1.0)
    return lambda x: min(top, max(0.05, 0.9 - rate * x))


def mixture(rng: Random) -> Curve:
    """Some notes are hard and others easy."""
    slope, gap = exp(rng.uniform(log(8), log(20))), rng.uniform(0.2, 0.5)
    hard, reach = rng.uniform(0.15, 0.5), 1 - rng.uniform(0, 0.02)
    return _moved(lambda x: reach * (hard * _logistic(-slope * x) + (1 - hard) * _logistic(-slope * (x - gap))))


def plateau(rng: Random) -> Curve:
    """A few notes fail early; then level ground a little over the target, and then a fall."""
    early, at, slope = rng.uniform(0.03, 0.07), -rng.uniform(0.15, 0.4), rng.uniform(12, 30)
    fall = _logit(0.9 / (0.995 - early))
    return _moved(lambda x: (0.995 - early * _logistic(25 * (x - at))) * _logistic(fall - slope * x))


def step(rng: Random) -> Curve:
    top, low = rng.uniform(0.95, 0.99), rng.uniform(0.3, 0.7)
    at = _logit((0.9 - low) / (top - low))
    return lambda x: low + (top - low) * _logistic(at - 60 * x)


CURVES = {form.__name__.replace("_", "-"): form for form in (smooth, long_tailed, linear, mixture, plateau, step)}
