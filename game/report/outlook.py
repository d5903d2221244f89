"""Where practice leads: when first sight and the time to find will be what a fluent map asks, where it can be told.

For the screen as for the page: each outlook has its sentence; there is none where the days tell nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from game.coach.numbers import NUMBERS
from game.message import Message, message
from game.practice_log.queries.figure_records import DayFigures
from game.report.forecast import RANGE, DayMeasure, Forecast, forecast

FLUENT_SHARE = 0.90
"""At first sight (design: what a fluent map asks)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """What is forecast ("first sight" or "time to find"), and the sentence that says it. The limit of first sight is
    the share that is not clean, that of the time to find is in seconds.
    """

    what: Literal["first sight", "time to find"]
    forecast: Forecast
    sentence: Message


def outlook(days: Sequence[DayFigures]) -> tuple[Outlook, ...]:
    """What can be told of the days ahead. `days` are all days of practice, oldest first."""
    sight = forecast(
        [DayMeasure(day=day.day, value=1 - (day.share or 0.0), notes=day.read) for day in days if day.read],
        1 - FLUENT_SHARE,
    )
    find = forecast(
        [DayMeasure(day=day.day, value=day.found_s / day.found, notes=day.found) for day in days if day.found],
        NUMBERS.slow_find_s,
    )
    told = []
    if sight:
        said = message("report.outlook.first_sight", when=_when(sight))
        told.append(Outlook(what="first sight", forecast=sight, sentence=said))
    if find:
        said = message("report.outlook.time_to_find", limit=find.limit, when=_when(find))
        told.append(Outlook(what="time to find", forecast=find, sentence=said))
    return tuple(told)


def _when(found: Forecast) -> Message:
    """The day and its range, the day last where the range is a day."""
    if found.earliest == found.latest:
        return message("report.outlook.on_day", day=found.day)
    return message(
        "report.outlook.between",
        day=found.day,
        earliest=found.earliest,
        latest=found.latest,
        chance=round(RANGE * 10),
    )
