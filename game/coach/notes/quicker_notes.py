"""Whether a note is surely quicker to find than before: medians of few findings differ by chance."""

from math import log, pi, sqrt

from game.coach.numbers import NUMBERS, CoachNumbers

FEWEST = 3
"""Findings on either side: of fewer a median says nothing."""

_SURE_Z = 1.6449
"""One-sided 95 % of the normal distribution (standard table)."""

_MEDIAN = sqrt(pi / 2)
"""By so much a median of normal values spreads wider than their mean (standard result, many values)."""


def is_surely_quicker(
    before_s: float, timed_before: int, now_s: float, timed_now: int, numbers: CoachNumbers = NUMBERS
) -> bool:
    """Whether medians in seconds of so many findings each differ by more than chance allows, one-sided 95 %, by the
    usual spread of the log of a time to find.
    """
    if min(timed_before, timed_now) < FEWEST or min(before_s, now_s) <= 0:
        return False
    spread = numbers.find_spread * _MEDIAN * sqrt(1 / timed_before + 1 / timed_now)
    return log(before_s / now_s) > _SURE_Z * spread
