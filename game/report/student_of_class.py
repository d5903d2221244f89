"""All that a teacher's page tells of one student, put together from the gathered class alone, for a week that ends
today.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Protocol

from game.judging.verdicts import Verdict
from game.message import Message
from game.neck.neck_map import NeckMap
from game.practice_log.classes.class_figures import ClassFigures
from game.practice_log.classes.class_queries import AskedClass, SetInClass, StudentWeek
from game.practice_log.classes.monday_queries import StuckPassage, stuck_passage
from game.practice_log.classes.need import PassageTake
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures, WentWrong
from game.practice_log.queries.how_held import HowHeld
from game.report.care import rise
from game.report.pencilled_takes import PencilledTake, drawable
from game.report.student import WEEK, WEEKS_OF_NOTES, SlowOnMap, days_as_one, plain_report

MOST_STUCK, MOST_WRONG_THERE, MOST_ON_CURVE = 3, 4, 24
MOST_WRONG_SHOWN = 6
"""What fits on the sheets. Ours."""

_OFF_TIME = (Verdict.EARLY, Verdict.LATE)


class AdvisedStudent(Protocol):
    """A student with the name they have on the pages, and what is advised: `why` they need their teacher, what to do in
    the `lesson`, a line for a terminal that sets what comes next (`set_next`, empty for none), a `hint` to it, and a
    `caution` where somebody practised much more than they are used to.
    """

    @property
    def week(self) -> StudentWeek:
        """Their week."""

    @property
    def name(self) -> str:
        """As nobody else of the class is called."""

    @property
    def why(self) -> Sequence[Message]:
        """Why they need their teacher."""

    @property
    def lesson(self) -> Message | None:
        """What to do in the lesson."""

    @property
    def set_next(self) -> str:
        """A line for a terminal."""

    @property
    def hint(self) -> Message | None:
        """What is to be said of that line."""

    @property
    def caution(self) -> Message | None:
        """A word of care."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StuckOnPage:
    """A passage that does not get on: its last takes against the click, oldest first, what went wrong in it in four
    weeks, the most frequent first, and which written notes came early or late in its last takes, and how often.
    """

    passage: PassageFigures
    takes: tuple[PassageTake, ...]
    wrong: tuple[WentWrong, ...]
    off_time: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentOfClass:
    """A student as their teacher sees them. `now` and `before` are this week and the one before it, `weeks` the four
    that end today; `days` are all until today. `lately` are the passages played in the week, but for those that are
    `stuck`, the one played last first. `notes` and `slow` are of the map played last, `slow_elsewhere` of the others.
    `marks` counts the marks earned this week and in the week before.
    """

    today: date
    days: tuple[DayFigures, ...]
    now: DayFigures
    before: DayFigures
    weeks: DayFigures
    days_practised: tuple[int, int, int]
    marks: tuple[int, int, int]
    parts: tuple[SetInClass, ...]
    stuck: tuple[StuckOnPage, ...]
    stuck_in_all: int
    lately: tuple[PassageFigures, ...]
    notes: tuple[NoteFigures, ...]
    slow: tuple[NoteFigures, ...]
    slow_elsewhere: tuple[SlowOnMap, ...]
    wrong: tuple[WentWrong, ...]
    neck_map: NeckMap | None
    held: HowHeld
    marked: PencilledTake | None
    warning: Message | None

    @property
    def week_begins(self) -> date:
        """The first of the seven days that end today."""
        return self.today - timedelta(days=WEEK - 1)


def student_of_class(
    asked: AskedClass, week: StudentWeek, today: date, figures: ClassFigures | None = None
) -> StudentOfClass:
    """What there is of a student of a class; nothing but zeros of one who never practised. `figures` are theirs, where
    they were asked for something before.
    """
    figures = figures or ClassFigures(asked, week.student)
    report = plain_report(figures, week.name, today=today)
    numbered = figures.numbered_passages()
    days = report.days if report else ()
    four_weeks = WEEK * WEEKS_OF_NOTES
    begins = today - timedelta(days=WEEK)
    spans = (begins, today), (begins - timedelta(days=WEEK), begins), (today - timedelta(days=four_weeks), today)
    earned = [day for one in numbered.values() for _, day in one.marks]
    lately = [
        one
        for number, one in numbered.items()
        if number not in week.stuck and begins < one.last_day and one.first_day <= today
    ]
    return StudentOfClass(
        today=today,
        days=days,
        now=days_as_one(days, today, WEEK),
        before=days_as_one(days, begins, WEEK),
        weeks=days_as_one(days, today, four_weeks),
        days_practised=_counted([day.day for day in days], spans),
        marks=_counted(earned, spans),
        parts=week.parts,
        stuck=tuple(_stuck(asked, figures, week, today)),
        stuck_in_all=len(week.stuck),
        lately=tuple(lately),
        notes=report.notes if report else (),
        slow=report.slow if report else (),
        slow_elsewhere=report.slow_elsewhere if report else (),
        wrong=report.wrong if report else (),
        neck_map=report.neck_map if report else None,
        held=figures.held(),
        marked=_marked(figures, today),
        warning=rise(days, today) if days else None,
    )


def _counted(days: Sequence[date], spans: Sequence[tuple[date, date]]) -> tuple[int, int, int]:
    """How many of the days lie in each span, its first out, its last in."""
    first, second, third = (sum(after < day <= until for day in days) for after, until in spans)
    return first, second, third


def _stuck(asked: AskedClass, figures: ClassFigures, week: StudentWeek, today: date) -> Iterator[StuckOnPage]:
    numbered = figures.numbered_passages()
    for number in week.stuck[:MOST_STUCK]:
        if number in numbered:
            yield StuckOnPage(
                passage=numbered[number],
                takes=figures.timed_takes(number, today, MOST_ON_CURVE),
                wrong=figures.went_wrong_there(number, today, WEEK * WEEKS_OF_NOTES, MOST_WRONG_THERE),
                off_time=_off_time(stuck_passage(asked, week.student, number, today)),
            )


def _off_time(passage: StuckPassage) -> tuple[tuple[str, int], ...]:
    """The notes that came early or late most often."""
    times = Counter[str]()
    for note in passage.amiss:
        if note.verdict in _OFF_TIME:
            times[note.written] += note.times
    return tuple(sorted(times.items(), key=lambda one: (-one[1], one[0]))[:MOST_WRONG_THERE])


def _marked(figures: ClassFigures, today: date) -> PencilledTake | None:
    """The take of the week with the most pencil marks that can be drawn."""
    return next(drawable(figures.marked_takes(today, WEEK)), None)
