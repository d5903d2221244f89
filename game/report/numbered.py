"""Takes by day and number, as a page names them: "take 12 of 14 November 2026"."""

from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from game.practice_log.queries.take_queries import takes_between
from game.practice_log.rows.log_records import LoggedTake


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedTake:
    """A take, the day of its player's on which it was begun, and its number on that day, from 1, in the order of
    everything; takes that were never judged count, so that a number stays what it is.
    """

    day: date
    number: int
    logged: LoggedTake


def takes_of_days(log: Any, player: UUID, first: date, last: date) -> tuple[NumberedTake, ...]:
    """A player's takes in an open log from one day to another, both in."""
    numbers: dict[date, int] = {}
    numbered = []
    for logged in takes_between(log, player, first, last):
        numbers[logged.day] = numbers.get(logged.day, 0) + 1
        numbered.append(NumberedTake(day=logged.day, number=numbers[logged.day], logged=logged))
    return tuple(numbered)
