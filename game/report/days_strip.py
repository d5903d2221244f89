"""The minutes of four weeks, day by day, as a small picture: the days without practice stand there as well."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from game.practice_log.queries.figure_records import DayFigures
from game.report.figure_words import minutes_said, short_day
from game.report.plain_svg import INK, LIGHT, QUIET, READ, Picture, bar, line, svg_of, words
from game.text.catalogue import say

DAYS = 28
_DAY, _HEIGHT, _TOP, _BOTTOM = 21.0, 110.0, 22.0, 22.0
_WEEK_DAYS, _SIZE = 7, 14.0
_LEAST_MINUTES = 10.0


def days_strip(days: Sequence[DayFigures], today: date) -> Picture:
    """The 28 days that end today."""
    minutes = {day.day: day.minutes for day in days}
    shown = [today - timedelta(days=DAYS - 1 - at) for at in range(DAYS)]
    amounts = [minutes.get(day, 0.0) for day in shown]
    practised = sum(amount > 0 for amount in amounts)
    said = say("student.strip.said", practised=practised, days=DAYS, most=max(amounts))
    return Picture(svg=svg_of(DAYS * _DAY, _HEIGHT, _parts(shown, amounts), said), caption=say("student.strip.caption"))


def _parts(shown: Sequence[date], amounts: Sequence[float]) -> Iterator[str]:
    most = max([*amounts, _LEAST_MINUTES])
    floor = _HEIGHT - _BOTTOM
    for at, (day, amount) in enumerate(zip(shown, amounts, strict=True)):
        left = at * _DAY
        if at % _WEEK_DAYS == 0:
            yield line(left, _TOP - 8, left, _HEIGHT, LIGHT)
            yield words(short_day(day), left + 4, _HEIGHT - 6, _SIZE, QUIET)
        if amount > 0:
            high = max(2.0, amount / most * (floor - _TOP))
            yield bar(left + 3, floor - high, _DAY - 6, high, READ)
            yield words(minutes_said(amount) if amount >= 1 else "<1", left + _DAY / 2, floor - high - 4, _SIZE, INK,
                anchor="middle")  # fmt: skip
    yield line(0, floor, DAYS * _DAY, floor, QUIET)
