"""Evenings as people have them: some short, some bad, some without any practice; and music met for the first time, of
which a good part goes wrong. Pure; chance is a `random.Random` passed in. The figures are invented.
"""

from dataclasses import dataclass, replace
from math import exp
from random import Random

from game.demo.learner import Learner

SHORTEST_MIN, LONGEST_MIN = 15.0, 25.0
_BAD, _WITHOUT = 0.2, 0.15
_FIRST_FREE_DAY = 3
"""Nobody who begins leaves it at once."""

_LEAST_AT_SIGHT, _MOST_AT_SIGHT = 0.60, 0.90
_SIGHT_DAYS = 14.0
_SIGHT_SPREAD = 0.06


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """An evening: its minutes, 0 without practice; whether it is a `bad` one; and the share of notes that come right at
    first sight, 0.6 to 0.9.
    """

    minutes: float
    bad: bool
    right_at_sight: float


def evening_of(day: int, chance: Random) -> Evening:
    """The evening of a day of practice, from 1. What comes right at first sight grows with the days, unevenly."""
    without = chance.random() < _WITHOUT and day >= _FIRST_FREE_DAY
    minutes = 0.0 if without else chance.uniform(SHORTEST_MIN, LONGEST_MIN)
    bad = chance.random() < _BAD
    grown = _MOST_AT_SIGHT - (_MOST_AT_SIGHT - _LEAST_AT_SIGHT - _SIGHT_SPREAD) * exp(-day / _SIGHT_DAYS)
    right = chance.gauss(grown, _SIGHT_SPREAD) - (_SIGHT_SPREAD if bad else 0)
    return Evening(minutes=minutes, bad=bad, right_at_sight=min(_MOST_AT_SIGHT, max(_LEAST_AT_SIGHT, right)))


def as_on(learner: Learner, evening: Evening) -> Learner:
    """The learner as they are that evening."""
    if not evening.bad:
        return learner
    return replace(
        learner,
        free_wrong=min(0.3, 3 * learner.free_wrong),
        lapse=min(0.1, 4 * learner.lapse),
        find_s=1.5 * learner.find_s,
        spread_ms=1.6 * learner.spread_ms,
        tired=learner.tired + 0.08,
    )


def at_first_sight(learner: Learner, evening: Evening) -> Learner:
    """The learner before music met for the first time."""
    return replace(learner, free_wrong=1 - evening.right_at_sight)


def as_rested(well: Learner, now: Learner) -> Learner:
    """The learner as they were, with what was learned and the day's tiredness of since."""
    return replace(well, learned=now.learned, tired=now.tired)
