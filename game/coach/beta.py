"""Quantiles of the Beta distribution: how sure a share is after so many right and wrong answers.

The regularised incomplete beta function by its continued fraction (Abramowitz & Stegun 1964, 26.5.8, evaluated from
the front by Lentz's method), turned round by halving.
"""

from math import exp, lgamma, log, log1p

_TINY = 1e-300
_TERMS = 200
_HALVINGS = 40


def beta_quantile(chance: float, a: float, b: float) -> float:
    """The share below which the truth lies with `chance` (0 to 1, both out); `a` and `b` are above 0."""
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if beta_below(middle, a, b) < chance:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def beta_below(share: float, a: float, b: float) -> float:
    """The chance that the truth lies below `share`, 0 to 1."""
    if share <= 0:
        return 0.0
    if share >= 1:
        return 1.0
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(share) + b * log1p(-share))
    # The fraction converges fast on the near side only.
    if share < (a + 1) / (a + b + 2):
        return front * _fraction(share, a, b) / a
    return 1 - front * _fraction(1 - share, b, a) / b


def _fraction(x: float, a: float, b: float) -> float:
    above, below = 1.0, _away_from_zero(1 - (a + b) * x / (a + 1))
    below = 1 / below
    value = below
    for m in range(1, _TERMS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            below = 1 / _away_from_zero(1 + term * below)
            above = _away_from_zero(1 + term / above)
            change = above * below
            value *= change
        if abs(change - 1) < 1e-12:
            break
    return value


def _away_from_zero(value: float) -> float:
    return value if abs(value) > _TINY else _TINY
