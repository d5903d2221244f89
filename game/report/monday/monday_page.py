"""Monday's page: a class to be seen in thirty seconds, in words and tables."""

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from game.message import Message, message
from game.music.names import NoteNames
from game.practice_log.classes.need import STUCK_DAYS, STUCK_GAIN, STUCK_TAKES, WEEK_DAYS, Need
from game.report import figure_words
from game.report.care import of_somebody_else
from game.report.html import html_page
from game.report.monday.class_monday import StudentMonday, part_told
from game.report.monday.set_and_done import PartOfClass, parts_of_class
from game.text.catalogue import in_figures, say, tell

MOST_PARTS, MOST_NAMES, MOST_SLOW = 16, 3, 3
"""So many parts, names of those who are not done, and slow notes of a student are shown: the sheets are two."""

MOST_CARDS, ABSENT_CARDS = 10, 3
"""So many students have a card. Where more need their teacher, those who are absent give way first, but for so many:
of them there is least to tell.
"""

_COLUMNS = ("last", "days", "minutes", "before", "takes", "sight", "sight_timed", "slow")


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentCard:
    """A student who is to be looked at, in words. `link` is the file of their page, empty for none; `set_next` is a
    line for a terminal.
    """

    name: str
    link: str
    need: Need
    why: tuple[str, ...]
    lesson: str
    set_next: str
    hint: str
    caution: str


def monday_page(
    students: Sequence[StudentMonday],
    today: date,
    *,
    faults: Sequence[Message] = (),
    names: NoteNames = NoteNames.ENGLISH,
    pages: Collection[str] = (),
) -> str:
    """The page as HTML. Names are links to those `pages` that are there."""
    parts = parts_of_class(students, today)
    needy = [one for one in students if one.week.need is not Need.FINE or one.caution]
    shown = with_cards(needy)
    return html_page(
        "index.html",
        title=say("monday.title", day=figure_words.day_said(today)),
        week=say("report.from_to", first=today - timedelta(days=WEEK_DAYS - 1), last=today),
        sums=_sums(students),
        cards=[_card(one, pages) for one in shown],
        others=[(_need_said(need), those) for need in Need if (those := _named(needy, shown, need, pages))],
        headings=[say(f"monday.column.{column}") for column in ("student", "need", *_COLUMNS)],
        rows=[_row(one, today, names, pages) for one in students],
        part_headings=[say(f"monday.column.{column}") for column in ("part", "due", "done", "not_done")],
        parts=[_part_row(part, today) for part in parts[:MOST_PARTS]],
        parts_left_out=say("monday.parts_left_out", count=len(parts) - MOST_PARTS) if len(parts) > MOST_PARTS else "",
        needs=[(need.value, _need_said(need), _meaning(need)) for need in Need],
        cautions=[tell(message("report.advice.pain")), say("monday.ours")],
        faults=[tell(fault) for fault in faults],
    )


def _need_said(need: Need) -> str:
    return say(f"monday.need.{need.value}")


def _meaning(need: Need) -> str:
    match need:
        case Need.ABSENT:
            return say("monday.means.absent", days=WEEK_DAYS)
        case Need.STUCK:
            return say("monday.means.stuck", takes=STUCK_TAKES, days=STUCK_DAYS, gain=in_figures(STUCK_GAIN, ".0%"))
        case _:
            return say(f"monday.means.{need.value}")


def _sums(students: Sequence[StudentMonday]) -> list[tuple[str, str, str]]:
    """What stands at the top: a kind, words, and a number."""
    practised = sum(one.week.week_takes > 0 for one in students)
    needs = Counter(one.week.need for one in students)
    return [
        ("all", say("monday.practised"), say("monday.of", part=practised, whole=len(students))),
        *((need.value, _need_said(need), in_figures(needs[need], ",")) for need in Need),
    ]


def with_cards(needy: Sequence[StudentMonday]) -> list[StudentMonday]:
    """Those of a class who have a card, in their order."""
    absent = [one for one in needy if one.week.need is Need.ABSENT]
    others = len(needy) - len(absent)
    first = absent[: max(ABSENT_CARDS, MOST_CARDS - others)]
    return [one for one in needy if one.week.need is not Need.ABSENT or one in first][:MOST_CARDS]


def _named(
    needy: Sequence[StudentMonday], shown: Sequence[StudentMonday], need: Need, pages: Collection[str]
) -> list[dict[str, str]]:
    """Those with a need who have no card."""
    return [
        {"name": one.name, "link": one.page if one.page in pages else ""}
        for one in needy
        if one.week.need is need and one not in shown
    ]


def _card(student: StudentMonday, pages: Collection[str]) -> StudentCard:
    return StudentCard(
        name=student.name,
        link=student.page if student.page in pages else "",
        need=student.week.need,
        why=tuple(tell(figure_words.briefly(reason)) for reason in student.why),
        lesson=tell(student.lesson) if student.lesson else "",
        set_next=student.set_next,
        hint=tell(figure_words.briefly(student.hint)) if student.hint else "",
        caution=of_somebody_else(student.caution) if student.caution else "",
    )


def _row(student: StudentMonday, today: date, names: NoteNames, pages: Collection[str]) -> dict[str, object]:
    week = student.week
    untimed, clean_untimed = week.read - week.read_timed, week.clean - week.clean_timed
    # What the coach knows now is nothing of a day before the first take.
    known = week.slow[:MOST_SLOW] if week.last_day else ()
    slow = ", ".join(figure_words.note_said(note.written, names) for note in known)
    cells = (
        figure_words.near_day(week.last_day, today) if week.last_day else figure_words.NOTHING,
        in_figures(week.week_days, ","),
        figure_words.minutes_said(week.week_minutes),
        figure_words.minutes_said(week.before_minutes),
        in_figures(week.week_takes, ","),
        figure_words.share_said(clean_untimed / untimed if untimed else None),
        figure_words.share_said(week.clean_timed / week.read_timed if week.read_timed else None),
        slow or figure_words.NOTHING,
    )
    return {
        "name": student.name,
        "link": student.page if student.page in pages else "",
        "need": week.need.value,
        "said": _need_said(week.need),
        "cells": cells,
    }


def _part_row(part: PartOfClass, today: date) -> tuple[str, ...]:
    told = tell(figure_words.briefly(part_told(part.part)))
    assignment = figure_words.shortened(part.part.set_in)
    title = say("monday.part", assignment=assignment, part=told) if assignment != told else told
    due = figure_words.near_day(part.part.due, today) if part.part.due else figure_words.NOTHING
    done = say("monday.of", part=part.done, whole=part.set_for)
    return title, due, done, _not_done(part)


def _not_done(part: PartOfClass) -> str:
    """Who is overdue, by name; of the others how many there are."""
    said = []
    if part.overdue:
        said.append(say("monday.overdue_by", names=_names(part.overdue)))
    if part.open:
        said.append(say("monday.open_by", count=len(part.open)))
    return "; ".join(said) or figure_words.NOTHING


def _names(names: Sequence[str]) -> tuple[str, ...]:
    more = len(names) - MOST_NAMES
    return (*names[:MOST_NAMES], say("monday.more_names", count=more)) if more > 0 else tuple(names)
