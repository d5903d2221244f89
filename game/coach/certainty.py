"""How sure a share is: the Wilson score interval (Wilson 1927)."""

from math import sqrt


def wilson_lower(right: float, asked: float, z: float) -> float:
    """One-sided lower bound of the true share behind `right` of `asked`; 0 when nothing was asked."""
    return _wilson(right, asked, z)[0]


def wilson_upper(right: float, asked: float, z: float) -> float:
    """One-sided upper bound of the true share; 1 when nothing was asked."""
    return _wilson(right, asked, z)[1]


def _wilson(right: float, asked: float, z: float) -> tuple[float, float]:
    if asked <= 0:
        return 0.0, 1.0
    share, squared = right / asked, z * z
    middle = share + squared / (2 * asked)
    reach = z * sqrt(share * (1 - share) / asked + squared / (4 * asked * asked))
    # Where all or none are right the last digit would lie outside of what a share can be.
    return max(0.0, (middle - reach) / (1 + squared / asked)), min(1.0, (middle + reach) / (1 + squared / asked))
