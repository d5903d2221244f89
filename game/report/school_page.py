"""The head's page of a school: each class in a week, by sums, without a student's name or note."""

from collections.abc import Sequence
from datetime import date, timedelta

from game.practice_log.classes.class_queries import FOUR_WEEKS_DAYS
from game.practice_log.classes.need import WEEK_DAYS
from game.practice_log.school.head_sums import ClassSums
from game.report import figure_words
from game.report.html import html_page
from game.report.tables import Table
from game.text.catalogue import say

_COLUMNS = ("class", "teachers", "students", "practised", "absent", "minutes", "week_before", "takes", "sight", "timed")


def school_page(classes: Sequence[ClassSums], today: date) -> str:
    """The page as HTML; the week ends `today`."""
    students, practised = sum(one.students for one in classes), sum(one.practised for one in classes)
    return html_page(
        "school.html",
        title=say("school.page.title", day=figure_words.day_said(today)),
        week=say("report.from_to", first=today - timedelta(days=WEEK_DAYS - 1), last=today),
        sums=[
            (say("school.page.classes"), str(len(classes))),
            (say("school.page.students"), str(students)),
            (say("school.page.practised"), str(practised)),
            (say("school.page.minutes"), figure_words.minutes_said(sum(one.week_minutes for one in classes))),
        ],
        table=Table(
            caption=say("school.page.caption"),
            headings=tuple(say(f"school.page.{column}") for column in _COLUMNS),
            rows=tuple(map(_row, classes)),
        ),
        notes=[say("school.page.several"), say("school.page.first_sight", weeks=FOUR_WEEKS_DAYS // WEEK_DAYS)],
    )


def _row(one: ClassSums) -> tuple[str, ...]:
    timed = one.clean_timed / one.read_timed if one.read_timed else None
    return (
        one.name,
        ", ".join(one.teachers) or figure_words.NOTHING,
        str(one.students),
        str(one.practised),
        str(one.absent),
        figure_words.minutes_said(one.week_minutes),
        figure_words.minutes_said(one.before_minutes),
        str(one.week_takes),
        figure_words.share_said(one.share),
        figure_words.share_said(timed),
    )
