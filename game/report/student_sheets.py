"""The page of one student for their teacher: at most three sheets of A4, and readable on a phone."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from game.coach.stages import Stage
from game.judging.verdicts import Verdict
from game.lines.titles import title_told
from game.music.names import NoteNames
from game.practice_log.classes.class_queries import SetInClass
from game.practice_log.classes.need import STUCK_TAKES
from game.practice_log.queries.figure_records import DayFigures, PassageFigures, WentWrong
from game.practice_log.queries.figures import MOST_WRONG
from game.report import figure_words
from game.report.care import ADVICE, of_somebody_else
from game.report.days_strip import days_strip
from game.report.html import html_page
from game.report.neck_picture import slow_neck
from game.report.pencil_page import pencil_page
from game.report.staff_picture import slow_on_the_staff
from game.report.student_of_class import (
    MOST_WRONG_SHOWN,
    AdvisedStudent,
    StuckOnPage,
    StudentOfClass,
)
from game.report.tables import Table, headings_of, notes_table
from game.report.take_curve import take_curve
from game.text.catalogue import in_figures, say, tell

MOST_PARTS, MOST_LATELY = 10, 6
"""Rows that fit on the sheets, with all else. Ours."""

_MOST_MAPS = 2
_STAGES = frozenset(stage.value for stage in Stage)


def student_sheets(
    seen: StudentOfClass,
    student: AdvisedStudent,
    *,
    index: str | None = None,
    names: NoteNames = NoteNames.ENGLISH,
) -> str:
    """The page as HTML."""
    page: dict[str, Any] = {
        "title": say("report.title_of", name=student.name),
        "name": student.name,
        "index": index,
        "week": say("student.week", first=seen.week_begins, last=seen.today),
        **_advice(seen, student),
        "weeks": weeks_table(seen),
        "strip": days_strip(seen.days, seen.today),
        **_set_and_stuck(seen, names),
        **_notes(seen, names),
        "sheet": pencil_page(seen.marked, names) if seen.marked else None,
        "wrong": _went_wrong(seen.wrong[:MOST_WRONG_SHOWN], names) if seen.wrong else None,
        "wrong_more": _more(
            "wrong" if len(seen.wrong) < MOST_WRONG else "wrong_at_least", len(seen.wrong) - MOST_WRONG_SHOWN
        ),
        "lately": lately_table(seen.lately[:MOST_LATELY]) if seen.lately else None,
        "lately_more": _more("lately", len(seen.lately) - MOST_LATELY),
        "care": [tell(word) for word in ADVICE],
    }
    return html_page("sheets.html", page=page)


def _advice(seen: StudentOfClass, student: AdvisedStudent) -> dict[str, Any]:
    """Why they need their teacher, and what to do."""
    warning = student.caution or seen.warning
    return {
        "why": [tell(one) for one in student.why],
        "lesson": tell(student.lesson) if student.lesson else "",
        "set_next": student.set_next,
        "hint": tell(student.hint) if student.hint else "",
        "warning": of_somebody_else(warning) if warning else "",
    }


def _set_and_stuck(seen: StudentOfClass, names: NoteNames) -> dict[str, Any]:
    """What was set, and what does not get on."""
    parts = sorted(seen.parts, key=lambda part: _urgency(part, seen.today))
    return {
        "parts": parts_table(parts[:MOST_PARTS], seen.today) if parts else None,
        "parts_more": _more("parts", len(parts) - MOST_PARTS),
        "stuck": [_stuck(one, names) for one in seen.stuck],
        "curves": any(one.takes for one in seen.stuck),
        "stuck_none": say("student.stuck.none" if seen.now.takes else "student.stuck.not_played"),
        "stuck_more": _more("stuck", seen.stuck_in_all - len(seen.stuck)),
    }


def _notes(seen: StudentOfClass, names: NoteNames) -> dict[str, Any]:
    """The slow notes, on the neck, on the staff and in a table, and those of other maps in words."""
    neck_map = seen.neck_map
    return {
        "on_map": figure_words.on_map(neck_map) if neck_map else "",
        "map": slow_neck(neck_map, seen.slow, names, seen.held) if neck_map and seen.slow else None,
        "staff": slow_on_the_staff(seen.notes, seen.slow, neck_map.reading, names) if neck_map else None,
        "slow": notes_table(seen.slow, names) if seen.slow else None,
        "slow_elsewhere": [
            say(
                "student.slow_elsewhere",
                where=figure_words.on_map(one.neck_map),
                notes=tuple(figure_words.note_said(note.written, names) for note in one.slow),
            )
            for one in [one for one in seen.slow_elsewhere if one.slow][:_MOST_MAPS]
        ],
    }


def weeks_table(seen: StudentOfClass) -> Table:
    """The week beside the one before it, and the four that end today."""
    spans = (seen.now, seen.before, seen.weeks)
    rows: tuple[tuple[str, Sequence[str]], ...] = (
        ("minutes", [figure_words.minutes_said(one.minutes) for one in spans]),
        ("days", [in_figures(many, ",") for many in seen.days_practised]),
        ("takes", [in_figures(one.takes, ",") for one in spans]),
        ("sight", [_sight(*one.untimed) for one in spans]),
        ("sight_timed", [_sight(*one.timed) for one in spans]),
        ("found", [_found(one) for one in spans]),
        ("marks", [in_figures(many, ",") for many in seen.marks]),
    )
    return Table(
        caption=say("student.weeks.caption"),
        headings=tuple(say(f"student.column.{one}") for one in ("what", "this_week", "last_week", "four_weeks")),
        rows=tuple((say(f"student.weeks.{what}"), *told) for what, told in rows),
    )


def parts_table(parts: Sequence[SetInClass], today: date) -> Table:
    """What was set, and what became of it."""
    rows = ((_part(part), _stage(part), _day(part.due), _state(part, today)) for part in parts)
    headings = tuple(say(f"student.column.{one}") for one in ("set", "stage", "due", "state"))
    return Table(caption=say("student.set.caption"), headings=headings, rows=tuple(rows), kind="set")


def lately_table(passages: Sequence[PassageFigures]) -> Table:
    """Passages with their tempi and marks."""
    rows = (
        (
            _passage(one.title, one.first, one.last),
            figure_words.tempo_said(one.newest_bpm),
            figure_words.tempo_said(one.clean_bpm),
            figure_words.tempo_said(one.target_bpm),
            ", ".join(tell(figure_words.mark_said(mark)) for mark, _ in one.marks) or figure_words.NOTHING,
        )
        for one in passages
    )
    headings = headings_of("tune last_tempo fastest_clean target marks")
    return Table(caption=say("student.lately.caption"), headings=headings, rows=tuple(rows))


def _sight(read: int, clean: int) -> str:
    if not read:
        return figure_words.NOTHING
    return say("student.sight_of", share=figure_words.sight_said(read, clean), notes=read)


def _found(day: DayFigures) -> str:
    return figure_words.pace_said(day.notes_a_second)


def _passage(title: str, first: str, last: str) -> str:
    short = figure_words.shortened(tell(title_told(title)))
    return say("report.page.where", title=short, bars=figure_words.bars_said(first, last))


def _part(part: SetInClass) -> str:
    if part.level is not None:
        told = say("student.set.lines", level=part.level, count=part.a_day or 1)
    elif part.bars is not None:
        told = _passage(part.title, *map(str, part.bars))
    else:
        told = figure_words.shortened(tell(title_told(part.title)))
    return say("student.set.at", what=told, tempo=part.target_bpm) if part.target_bpm else told


def _stage(part: SetInClass) -> str:
    if not part.stage:
        return figure_words.NOTHING if part.level is not None else say("student.set.any_stage")
    return say(f"{part.stage}.name") if part.stage in _STAGES else part.stage


def _day(day: date | None) -> str:
    return figure_words.day_said(day) if day else figure_words.NOTHING


def _state(part: SetInClass, today: date) -> str:
    if part.done is not None:
        late = part.due is not None and part.done > part.due
        return say("student.set.done_late" if late else "student.set.done", day=part.done)
    if part.withdrawn:
        return say("student.set.withdrawn")
    told = [say("student.set.overdue", count=(today - (part.due or today)).days)] if part.is_overdue(today) else []
    if part.opened is None:
        told.append(say("student.set.not_opened"))
    elif part.steps > 1:
        told.append(say("student.set.steps", done=part.steps_done, steps=part.steps))
    return ", ".join(told) or say("student.set.open")


def _urgency(part: SetInClass, today: date) -> tuple[int, date]:
    """Overdue before open before done and withdrawn; of the open what is due first, of the done the newest."""
    due = part.due or date.max
    if part.is_overdue(today):
        return 0, due
    if part.done is None and not part.withdrawn:
        return 1, due
    return 2, date.min + (date.max - (part.done or part.due or today))


def _stuck(one: StuckOnPage, names: NoteNames) -> dict[str, Any]:
    passage = one.passage
    tempi = (
        ("student.stuck.last", passage.newest_bpm),
        ("student.stuck.clean", passage.clean_bpm),
        ("student.stuck.target", passage.target_bpm),
    )
    told = [say(key, tempo=tempo) for key, tempo in tempi if tempo]
    if passage.newest_bpm and not passage.clean_bpm:
        told.insert(1, say("student.stuck.never_clean"))
    off_time = tuple(
        say("report.so_often", what=figure_words.note_said(written, names), times=times)
        for written, times in one.off_time
    )
    return {
        "title": _passage(passage.title, passage.first, passage.last),
        "tempi": say("student.stuck.tempi", tempi=tuple(told)) if told else "",
        "curve": take_curve(one.takes, passage.target_bpm),
        "wrong": _wrong_there(one.wrong, names) if one.wrong else None,
        "off_time": say("student.stuck.off_time", takes=STUCK_TAKES, notes=off_time) if off_time else "",
    }


def _wrong_there(wrong: Sequence[WentWrong], names: NoteNames) -> Table:
    """What goes wrong in one passage."""
    rows = tuple(_wrong_note(one, names) for one in wrong)
    headings = headings_of("note played cause how_often")
    return Table(caption=say("student.stuck.caption"), headings=headings, rows=rows)


def _went_wrong(wrong: Sequence[WentWrong], names: NoteNames) -> Table:
    """What went wrong in the week."""
    rows = tuple((figure_words.shortened(tell(title_told(one.title))), *_wrong_note(one, names)) for one in wrong)
    headings = headings_of("tune note played cause how_often")
    return Table(caption=say("student.wrong.caption"), headings=headings, rows=rows)


def _wrong_note(one: WentWrong, names: NoteNames) -> tuple[str, ...]:
    elsewhere = one.verdict == Verdict.OTHER_PLACE.value
    return (
        say("student.stuck.note", note=figure_words.note_said(one.written, names), bar=one.bar),
        figure_words.verdict_said(one.verdict)
        if elsewhere
        else figure_words.played_said(one.played, one.octaves_down, names),
        tell(figure_words.cause_said(one.cause)) if one.cause else figure_words.NOTHING,
        in_figures(one.times, ","),
    )


def _more(what: str, many: int) -> str:
    return say(f"student.more.{what}", count=many) if many > 0 else ""
