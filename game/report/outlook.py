"""Where practice leads: when first sight and the time to find will be what a fluent map asks, where it can be told.

For the screen as for the page: `outlook_said(figures.days())` gives the sentences, none where the days tell nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from game.coach.numbers import NUMBERS
from game.practice_log.queries.figures import DayFigures
from game.report.figure_words import day_said
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
    sentence: str


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
        sentence = f"nine notes of ten will be read clean at first sight {_when(sight)}"
        told.append(Outlook(what="first sight", forecast=sight, sentence=f"If it goes on like this, {sentence}"))
    if find:
        sentence = f"a note will be found in {find.limit:.1f} seconds, on average, {_when(find)}"
        told.append(Outlook(what="time to find", forecast=find, sentence=f"If it goes on like this, {sentence}"))
    return tuple(told)


def outlook_said(days: Sequence[DayFigures]) -> tuple[str, ...]:
    """The sentences alone."""
    return tuple(one.sentence for one in outlook(days))


def _when(found: Forecast) -> str:
    """The day and its range, the day last where the range is a day."""
    if found.earliest == found.latest:
        return f"about {day_said(found.day)}."
    chance = f"{RANGE * 10:.0f} in 10"
    return (
        f"about {day_said(found.day)}: between {day_said(found.earliest)} and {day_said(found.latest)}, "
        f"with a chance of {chance}."
    )
