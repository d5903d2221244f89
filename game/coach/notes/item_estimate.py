"""What follows from the evidence about an item: how long it takes to find, how surely, and what it costs the player.

Accuracy: Beta, from two imagined readings of which four in five were right. Time to find: log-normal with the usual
conjugate prior (normal with inverse gamma), from one imagined finding in the player's usual time. So a note never read
stands where most of the player's notes stand, and says that it might stand anywhere.
"""

from dataclasses import dataclass
from math import exp, log, sqrt
from statistics import median

from game.coach.notes.items import Item, Items
from game.coach.numbers import NUMBERS, CoachNumbers


@dataclass(frozen=True, slots=True)
class FindTimeEstimate:
    """The natural logarithm of the median time to find, in s: its estimate and standard deviation."""

    mean_log_s: float
    spread: float


def usual_find_s(items: Items, numbers: CoachNumbers = NUMBERS, *, on_map: str | None = None) -> float:
    """The player's usual time to find a note: the median over the items that were timed, of the map of that name where
    one is told, held back by one imagined item at the usual time of the table. In seconds.
    """
    timed = [
        item.mean_log_s for key, item in items.items() if item.timed >= 1 and (on_map is None or key.map_name == on_map)
    ]
    return exp(median([*timed, log(numbers.usual_find_s)]))


def find_time_estimate(item: Item, usual_s: float, numbers: CoachNumbers = NUMBERS) -> FindTimeEstimate:
    """What is known of the time to find an item."""
    before, timed = numbers.find_before, item.timed
    weight = before + timed
    apart = item.mean_log_s - log(usual_s)
    mean = log(usual_s) + apart * timed / weight
    degrees = numbers.find_spread_before + timed
    squares = numbers.find_spread_before * numbers.find_spread**2 + item.squares + before * timed / weight * apart**2
    # Student's t has this variance: with few readings the doubt is wider than the spread alone would make it.
    return FindTimeEstimate(mean, sqrt(squares / (degrees - 2) / weight))


def combined_items(one: Item, other: Item) -> Item:
    """The evidence of two items as that of one, for what is true of both; both as they stand on one day. The causes of
    wrong answers are those of `one`.
    """
    timed = one.timed + other.timed
    apart = other.mean_log_s - one.mean_log_s
    part = other.timed / timed if timed else 0.0
    return one._replace(
        readings=one.readings + other.readings,
        right=one.right + other.right,
        wrong=one.wrong + other.wrong,
        timed=timed,
        mean_log_s=one.mean_log_s + apart * part,
        squares=one.squares + other.squares + apart**2 * one.timed * part,
        day=max(one.day, other.day),
        strayed=one.strayed + other.strayed,
    )


def cost_s(item: Item, usual_s: float, *, doubt: float = 0.0, numbers: CoachNumbers = NUMBERS) -> float:
    """Seconds an item costs, `doubt` standard deviations towards the worse."""
    a, b = item.right + numbers.right_before, item.wrong + numbers.wrong_before
    both = a + b
    wrong = min(b / both + doubt * sqrt(a * b / (both + 1)) / both, 1.0)
    found = find_time_estimate(item, usual_s, numbers)
    return exp(found.mean_log_s + doubt * found.spread) * (1 + numbers.wrong_costs * wrong)
