"""Care for the hands and ears: what a report says about load, breaks and listening.

Sudden increases of playing are blamed for injuries (Chan & Ackermann 2014); no study gives the step at which to warn,
so the numbers here are ours. Breaks: common practice among teachers. Listening: WHO-ITU H.870, 80 dB for 40 hours a
week, each 3 dB more halving the time. The program cannot measure sound: it advises and does not meter.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Protocol

from game.message import Message, message
from game.text.catalogue import say, tell

STEEP = 1.5
"""Times the usual week at which a rise is called steep. Ours."""

LEAST_MORE_MINUTES = 60.0
"""A rise by less than this, in minutes a week, is not worth a word. Ours."""

USUAL_WEEKS = 4

ADVICE = (
    message("report.advice.breaks"),
    message("report.advice.posture"),
    message("report.advice.pain"),
    message("report.advice.listening"),
)


class PractisedDay(Protocol):
    """Any record of a day that tells how many minutes were practised."""

    @property
    def day(self) -> date:
        """The day."""
        ...

    @property
    def minutes(self) -> float:
        """How many."""
        ...


def minutes_between(days: Sequence[PractisedDay], after: date, until: date) -> float:
    """Minutes practised after one day, up to another, that one in."""
    return sum(day.minutes for day in days if after < day.day <= until)


def rise(days: Sequence[PractisedDay], until: date) -> Message | None:
    """A quiet warning when the last week was much more than the weeks before it, else None.

    `days` oldest first. The weeks before count from the first day practised: at least one must be there to compare.
    """
    week_ago = until - timedelta(days=7)
    earlier = [day for day in days if day.day <= week_ago]
    if not earlier:
        return None
    now = minutes_between(days, week_ago, until)
    weeks = min(USUAL_WEEKS, max(1.0, ((week_ago - earlier[0].day).days + 1) / 7))
    usual = minutes_between(days, week_ago - timedelta(days=7 * USUAL_WEEKS), week_ago) / weeks
    if now < STEEP * usual or now - usual < LEAST_MORE_MINUTES:
        return None
    return message("report.steep_rise", now=now, usual=usual)


def of_somebody_else(warning: Message) -> str:
    """A word of care as it is said to a teacher of a student."""
    return say("student.steep_rise", **dict(warning.values)) if warning.key == "report.steep_rise" else tell(warning)
