"""Takes by day and number, as a page names them: "take 12 of 14 November 2026"."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from uuid import UUID

from game.practice_log.queries.summaries import LOCAL
from game.practice_log.queries.take_queries import takes_between
from game.practice_log.rows.log_records import LoggedTake

_WIDEST_ZONE = timedelta(days=1)
"""No zone is further from UTC than this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedTake:
    """A take, the day of its player's on which it was begun, and its number on that day, from 1, in the order in which
    takes were begun; takes that were never judged count, so that a number stays what it is.
    """

    day: date
    number: int
    logged: LoggedTake


def takes_of_days(log: Any, player: UUID, first: date, last: date, *, zone: str = LOCAL) -> tuple[NumberedTake, ...]:
    """A player's takes in an open log from one day to another, both in. `zone` as
    `game.practice_log.queries.figures.figures_of` has it.
    """
    start = datetime.combine(first, time(), UTC) - _WIDEST_ZONE
    stop = datetime.combine(last, time(), UTC) + _WIDEST_ZONE + timedelta(days=1)
    numbers: dict[date, int] = {}
    numbered = []
    for logged in takes_between(log, player, start, stop):
        day = day_of(logged.begun.started_at, zone)
        numbers[day] = numbers.get(day, 0) + 1
        if first <= day <= last:
            numbered.append(NumberedTake(day=day, number=numbers[day], logged=logged))
    return tuple(numbered)


def day_of(at_utc: datetime, zone: str) -> date:
    """The day of a moment in a zone: that of this computer, or an offset such as "+60 minutes"."""
    if zone == LOCAL:
        return at_utc.astimezone().date()
    return (at_utc + timedelta(minutes=int(zone.split(maxsplit=1)[0]))).date()
