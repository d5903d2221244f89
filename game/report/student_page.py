"""The page of one player: their report in words, tables and pictures."""

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

from game.message import message
from game.music.names import NoteNames
from game.practice_log.queries.figure_records import PassageFigures
from game.report import figure_words, pictures, tables
from game.report.care import ADVICE
from game.report.html import html_page
from game.report.pencil_page import pencil_page
from game.report.staff_picture import slow_on_the_staff
from game.report.student import WEEK, WEEKS_OF_NOTES, StudentReport, by_weeks
from game.text.catalogue import in_figures, say, tell

MOST_DAYS, MOST_PASSAGES = 28, 40


def student_page(report: StudentReport, *, names: NoteNames = NoteNames.ENGLISH, index: str | None = None) -> str:
    """The page as HTML. `index` is where the page of all students lies, None for a player's own."""
    points, span = by_weeks(report.days)
    page: dict[str, Any] = {
        "title": say("report.title_of", name=report.name) if report.name else say("report.title"),
        "first_day": report.days[0].day,
        "last_day": report.days[-1].day,
        "week": say(
            "report.week_is",
            first=report.until - timedelta(days=WEEK - 1),
            last=report.until,
            since=report.until - timedelta(days=WEEK * WEEKS_OF_NOTES - 1),
        ),
        "index": index,
        "sums": sums(report),
        "warning": tell(report.warning) if report.warning else "",
        "sight": pictures.first_sight(points, span),
        "pace": pictures.pace(points, span),
        "outlook": [tell(one.sentence) for one in report.outlook],
        "minutes": pictures.minutes(points, span),
        "days": tables.days_table(report.days[-MOST_DAYS:]),
        "days_left_out": _left_out("days", len(report.days), MOST_DAYS),
        "map": pictures.slow_on_the_neck(report.neck_map, report.slow, names, report.held) if report.neck_map else None,
        "staff": slow_on_the_staff(report.notes, report.slow, report.neck_map.reading, names)
        if report.neck_map
        else None,
        "slow": tables.notes_table(report.slow, names),
        "slow_map": figure_words.on_map(report.neck_map) if report.neck_map and report.slow_elsewhere else "",
        "slow_elsewhere": [
            (figure_words.on_map(one.neck_map), tables.notes_table(one.slow, names)) for one in report.slow_elsewhere
        ],
        "quicker": tables.quicker_table(report.quicker, names),
        "tempi": pictures.tempi(report.passages[:MOST_PASSAGES]),
        "passages": tables.passages_table(report.passages[:MOST_PASSAGES], report.until),
        "passages_left_out": _left_out("passages", len(report.passages), MOST_PASSAGES),
        "sheets": [sheet for take in report.pencilled if (sheet := pencil_page(take, names))],
        "wrong": tables.wrong_table(report.wrong, names),
        "advice": [tell(word) for word in ADVICE],
    }
    return html_page("student.html", page=page)


def sums(report: StudentReport) -> tuple[tuple[str, str], ...]:
    """What stands at the top: words and figures."""
    recent = report.recent
    return (
        (say("report.sum.days"), in_figures(len(report.days), ",")),
        (say("report.sum.minutes"), in_figures(report.minutes, ",.0f")),
        (say("report.sum.week_minutes"), figure_words.minutes_said(report.week_minutes)),
        (say("report.sum.first_sight"), figure_words.sight_said(*recent.untimed)),
        (say("report.sum.first_sight_timed"), figure_words.sight_said(*recent.timed)),
        (say("report.sum.notes_a_second"), figure_words.pace_said(recent.notes_a_second)),
        (say("report.sum.passages"), _passages_said(report.passages)),
    )


def _passages_said(passages: Sequence[PassageFigures]) -> str:
    earned = [mark for passage in passages for mark, _ in passage.marks]
    if not earned:
        return in_figures(len(passages), ",")
    marks = tuple(
        message("report.so_many_marked", number=earned.count(mark), mark=figure_words.mark_said(mark))
        for mark in dict.fromkeys(earned)
    )
    return say("report.passages_with_marks", number=len(passages), marks=marks)


def _left_out(what: str, there: int, shown: int) -> str:
    """That a table shows the newest of `what` alone: days or passages."""
    return "" if there <= shown else say(f"report.left_out.{what}", shown=shown, all=there)
