"""Reports into files: a player's own, and one page for each student of a folder with a page of all."""

from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any
from uuid import UUID

from game.errors import HomefretError, LogError
from game.message import Message, message
from game.music.names import NoteNames
from game.practice_log.database.opening import log_in_memory, log_owner, opened_log, players_in
from game.practice_log.foreign.plain_files import is_packed
from game.practice_log.foreign.read_export import read_export
from game.practice_log.queries.figures import figures_of
from game.practice_log.transfer.contents import ENDING
from game.report import figure_words
from game.report.csv_files import write_csv_files
from game.report.html import html_page
from game.report.pencilled_takes import pencilled_takes
from game.report.student import StudentReport, student_report
from game.text.catalogue import say, tell

LOG_ENDING = ".sqlite"
_SLOW_NAMED = 5
_NONSENSE = (
    ValueError,
    TypeError,
    KeyError,
    IndexError,
    AttributeError,
    OverflowError,
    ArithmeticError,
    RecursionError,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenReport:
    """A report, and the files it was written into, the page first."""

    report: StudentReport
    files: tuple[Path, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenClass:
    """The page of all students, theirs, and what is to be said of each file that could not be read."""

    index: Path
    students: tuple[WrittenReport, ...]
    faults: tuple[Message, ...]


def write_own_report(log: Path, out: Path, *, name: str = "", names: NoteNames = NoteNames.ENGLISH) -> WrittenReport:
    """The report of a player's own log, under `name` or as the log knows them. Raises `LogError` for a log that cannot
    be read or holds no judged take, or a page that cannot be written.
    """
    with opened_log(log) as connection:
        player = log_owner(connection, log, name)
        with figures_of(connection, player.uuid) as figures:
            report = _with_pages(student_report(figures, player.name), connection, player.uuid)
    if report is None:
        raise LogError("report.log_without_take", parent=log.parent)
    return _write(report, out, names=names)


def write_class(folder: Path, index: Path, *, names: NoteNames = NoteNames.ENGLISH) -> WrittenClass:
    """A page for each student whose export (or log) lies in `folder`, and a page of all. What cannot be read is named
    there, and the rest made. Raises `LogError` for a folder without any, or pages that cannot be written.
    """
    if not folder.is_dir():
        raise LogError("report.no_such_folder", folder=folder)
    paths = sorted(path for path in folder.iterdir() if path.suffix.lower() in (ENDING, LOG_ENDING))
    if not paths:
        raise LogError("report.no_export_there", folder=folder)
    students: list[WrittenReport] = []
    faults: list[Message] = []
    for path in paths:
        try:
            for report in reports_of(path):
                page = index.with_name(f"{index.stem}-student-{len(students) + 1:02}.html")
                students.append(_write(report, page, names=names, index_name=index.name))
        except HomefretError as error:
            faults.append(error.message)
        except _NONSENSE as error:
            faults.append(message("report.rows_without_sense", name=path.name, fault=type(error).__name__))
    _write_text(index, _class_page(students, faults, names))
    return WrittenClass(index=index, students=tuple(students), faults=tuple(faults))


def reports_of(path: Path) -> Iterator[StudentReport]:
    """The report of each player in an export or a log. Raises `LogError` for a file that cannot be read."""
    if path.suffix.lower() == LOG_ENDING and not is_packed(path):
        with log_in_memory(path) as connection:
            for player in players_in(connection):
                with figures_of(connection, player.uuid) as figures:
                    report = student_report(figures, player.name or path.stem)
                    report = _with_pages(report, connection, player.uuid)
                if report is not None:
                    yield report
        return
    connection, contents = read_export(path)
    with closing(connection), figures_of(connection, contents.player.uuid) as figures:
        report = student_report(figures, contents.player.name or path.stem)
        report = _with_pages(report, connection, contents.player.uuid)
    if report is None:
        raise LogError("report.nothing_judged", name=path.name)
    yield report


def _with_pages(report: StudentReport | None, log: Any, player: UUID) -> StudentReport | None:
    """The report with the week's pages, and how the instrument is held; within `figures_of`, which tells of a log that
    makes no sense.
    """
    if report is None:
        return None
    return replace(report, pencilled=pencilled_takes(log, player, report.until))


def _write(report: StudentReport, out: Path, *, names: NoteNames, index_name: str | None = None) -> WrittenReport:
    from game.report.student_page import student_page  # noqa: PLC0415 - a refusal need not wait for the drawing library

    _write_text(out, student_page(report, names=names, index=index_name))
    try:
        beside = write_csv_files(report, out)
    except OSError as error:
        raise LogError("report.figures_not_written", out=out, strerror=error.strerror or error) from error
    return WrittenReport(report=report, files=(out, *beside))


def _write_text(out: Path, text: str) -> None:
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        out.write_text(text, encoding="utf-8")
    except OSError as error:
        raise LogError("report.not_written", out=out, strerror=error.strerror or error) from error


def _class_page(students: Sequence[WrittenReport], faults: Sequence[Message], names: NoteNames) -> str:
    columns = "student days last_practised week_minutes first_sight notes_a_second slow_notes signed_off"
    return html_page(
        "index.html",
        title=say("report.title_of_all"),
        headings=[say(f"report.class.{column}") for column in columns.split()],
        students=[_row(student, names) for student in students],
        faults=[tell(fault) for fault in faults],
    )


def _row(student: WrittenReport, names: NoteNames) -> dict[str, object]:
    report, page = student.report, student.files[0]
    recent = report.recent
    signed_off = sum(mark == "signed off" for passage in report.passages for mark, _ in passage.marks)
    slow = ", ".join(figure_words.note_said(note.written, names) for note in report.slow[:_SLOW_NAMED])
    cells = (
        str(len(report.days)),
        figure_words.day_said(report.until),
        figure_words.minutes_said(report.week_minutes),
        figure_words.share_said(recent.share),
        figure_words.pace_said(recent.notes_a_second),
        slow or figure_words.NOTHING,
        str(signed_off),
    )
    return {"href": page.name, "name": report.name, "cells": cells}
