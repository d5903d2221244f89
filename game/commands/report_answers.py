"""What was reported, as the command answers it to programs."""

from typing import TYPE_CHECKING

import msgspec

from game.commands.answers.report_answer import (
    FirstSight,
    NeverPractised,
    PassageMark,
    ReportAnswer,
    ReportedOutlook,
    ReportedPage,
    ReportedPart,
    ReportedPassage,
    ReportedStudent,
    ReportedWeek,
    SlowNote,
)
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures
from game.text.catalogue import in_english

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date
    from pathlib import Path

    from game.practice_log.classes.class_queries import SetInClass
    from game.report.monday.class_monday import StudentMonday
    from game.report.outlook import Outlook
    from game.report.pencilled_takes import PencilledTake
    from game.report.report_files import WrittenClass, WrittenReport, WrittenStudent
    from game.report.student import StudentReport


def report_answer(written: "WrittenReport") -> ReportAnswer:
    """A player's own report, as the command answers it."""
    return ReportAnswer(file=str(written.files[0]), students=[student_answer(written)], faults=[])


def class_answer(written: "WrittenClass", marks: "Path | None" = None) -> ReportAnswer:
    """The report of a class, written with all that reports tell (`ClassPages.told`), and the file of marks, where one
    was written.
    """
    with_page = {one.monday.page for one in written.students}
    return ReportAnswer(
        file=str(written.index),
        students=[_of_class(one, written.today) for one in written.students],
        faults=[in_english(fault) for fault in written.faults],
        marks=str(marks) if marks else None,
        today=written.today.isoformat(),
        never_practised=[_never(one, written.today) for one in written.mondays if one.page not in with_page],
    )


def _of_class(student: "WrittenStudent", today: "date") -> ReportedStudent:
    assert student.report is not None
    monday = student.monday
    week = monday.week
    return msgspec.structs.replace(
        _figures(student.report, student.files),
        id=str(week.student),
        need=week.need.value,
        why=[in_english(why) for why in monday.why],
        in_the_lesson=in_english(monday.lesson) if monday.lesson else "",
        set_next=monday.set_next,
        caution=in_english(monday.caution) if monday.caution else "",
        week=ReportedWeek(
            days=week.week_days,
            minutes=round(week.week_minutes, 2),
            takes=week.week_takes,
            before_minutes=round(week.before_minutes, 2),
        ),
        parts=[_part(part, today) for part in week.parts],
    )


def _never(monday: "StudentMonday", today: "date") -> NeverPractised:
    week = monday.week
    parts = [_part(part, today) for part in week.parts]
    return NeverPractised(id=str(week.student), name=monday.name, need=week.need.value, parts=parts)


def _part(part: "SetInClass", today: "date") -> ReportedPart:
    due, opened, done = (day.isoformat() if day else None for day in (part.due, part.opened, part.done))
    return ReportedPart(
        assignment=part.set_in,
        part=part.part,
        stage=part.stage,
        title=part.title,
        bars=list(part.bars) if part.bars else None,
        level=part.level,
        tempo=part.target_bpm,
        due=due,
        opened=opened,
        done=done,
        overdue=part.is_overdue(today),
        withdrawn=part.withdrawn,
    )


def student_answer(written: "WrittenReport") -> ReportedStudent:
    """One player's figures."""
    return _figures(written.report, written.files)


def _figures(report: "StudentReport", files: "Sequence[Path]") -> ReportedStudent:
    return ReportedStudent(
        name=report.name,
        files=[str(file) for file in files],
        days=len(report.days),
        last_day=report.until.isoformat(),
        minutes=round(report.minutes, 2),
        week_minutes=round(report.week_minutes, 2),
        first_sight=_first_sight(report.recent),
        notes_a_second=report.recent.notes_a_second,
        slow_notes=[_note(note) for note in report.slow],
        passages=[_passage(passage) for passage in report.passages],
        warning=in_english(report.warning) if report.warning else None,
        outlook=[_outlook(one) for one in report.outlook],
        pages=[_page(take) for take in report.pencilled],
    )


def _first_sight(recent: DayFigures) -> FirstSight:
    return FirstSight(
        read=recent.read,
        clean=recent.clean,
        share=recent.share,
        surely=list(recent.interval) if recent.read else None,
    )


def _note(note: NoteFigures) -> SlowNote:
    return SlowNote(
        written=note.written,
        string=note.string,
        fret=note.fret,
        read=note.read,
        clean=note.clean,
        find_s=note.find_s,
        causes=dict(note.causes),
    )


def _passage(passage: PassageFigures) -> ReportedPassage:
    return ReportedPassage(
        title=passage.title,
        bars=[passage.first, passage.last],
        takes=passage.takes,
        tempo=passage.newest_bpm,
        clean_tempo=passage.clean_bpm,
        target=passage.target_bpm,
        marks=[PassageMark(mark=mark, day=day.isoformat()) for mark, day in passage.marks],
        read=None if passage.read_day is None else passage.read_day.isoformat(),
    )


def _outlook(one: "Outlook") -> ReportedOutlook:
    ahead = one.forecast
    return ReportedOutlook(
        what=one.what,
        limit=ahead.limit,
        now=ahead.now,
        day=ahead.day.isoformat(),
        surely=[ahead.earliest.isoformat(), ahead.latest.isoformat()],
    )


def _page(take: "PencilledTake") -> ReportedPage:
    return ReportedPage(
        day=take.day.isoformat(),
        number=take.number,
        title=take.bars.title,
        bars=[take.bars.first, take.bars.last],
    )
