"""The page of one player: their report in words, tables and pictures."""

from typing import Any

from game.music.names import NoteNames
from game.report import figure_words, pictures, tables
from game.report.care import ADVICE
from game.report.html import html_page
from game.report.pencil_page import pencil_page
from game.report.staff_picture import slow_on_the_staff
from game.report.student import StudentReport, by_weeks

MOST_DAYS, MOST_PASSAGES = 28, 40


def student_page(report: StudentReport, *, names: NoteNames = NoteNames.ENGLISH, index: str | None = None) -> str:
    """The page as HTML. `index` is where the page of all students lies, None for a player's own."""
    points, what = by_weeks(report.days)
    page: dict[str, Any] = {
        "title": f"{report.name or 'Your'} reading" if not report.name else f"Reading: {report.name}",
        "first_day": figure_words.day_said(report.days[0].day),
        "last_day": figure_words.day_said(report.until),
        "index": index,
        "sums": sums(report),
        "warning": report.warning,
        "sight": pictures.first_sight(points, what),
        "pace": pictures.pace(points, what),
        "outlook": [one.sentence for one in report.outlook],
        "minutes": pictures.minutes(points, what),
        "days": tables.days_table(report.days[-MOST_DAYS:]),
        "days_left_out": _left_out(len(report.days), MOST_DAYS, "day"),
        "map": pictures.slow_on_the_neck(report.neck_map, report.slow) if report.neck_map else None,
        "staff": slow_on_the_staff(report.notes, report.slow, report.neck_map.reading) if report.neck_map else None,
        "slow": tables.notes_table("Slow or unsure in the last four weeks", report.slow, names),
        "quicker": tables.quicker_table(report.quicker, names),
        "tempi": pictures.tempi(report.passages[:MOST_PASSAGES]),
        "passages": tables.passages_table(report.passages[:MOST_PASSAGES]),
        "passages_left_out": _left_out(len(report.passages), MOST_PASSAGES, "passage"),
        "sheets": [sheet for take in report.pencilled if (sheet := pencil_page(take, names))],
        "wrong": tables.wrong_table(report.wrong, names),
        "advice": ADVICE,
    }
    return html_page("student.html", page=page)


def sums(report: StudentReport) -> tuple[tuple[str, str], ...]:
    """What stands at the top: words and figures."""
    recent = report.recent
    low, high = recent.interval
    sight = f"{figure_words.share_said(recent.share)} ({low:.0%} to {high:.0%})" if recent.read else "–"
    earned = [mark for passage in report.passages for mark, _ in passage.marks]
    marks = ", ".join(f"{earned.count(mark)} {mark}" for mark in dict.fromkeys(earned)) or "–"
    return (
        ("days practised", f"{len(report.days):,}"),
        ("minutes in all", f"{report.minutes:,.0f}"),
        ("minutes in the last week", figure_words.minutes_said(report.week_minutes)),
        ("first sight, last four weeks", sight),
        ("notes found a second", "–" if recent.notes_a_second is None else f"{recent.notes_a_second:.2f}"),
        ("passages", f"{len(report.passages):,}: {marks}" if report.passages else "0"),
    )


def _left_out(there: int, shown: int, what: str) -> str:
    if there <= shown:
        return ""
    return f"The {shown} newest stand here; all {figure_words.counted(there, what)} are in the CSV file."
