"""Reports into files: a player's own, and one page for each student of a folder with a page of all."""

import re
from collections.abc import Collection, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import closing, nullcontext
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, Self
from uuid import UUID

from game.errors import LogError, reason_of
from game.message import Message, message
from game.music.names import NoteNames
from game.paths import write_whole_file
from game.practice_log.classes.class_queries import AskedClass
from game.practice_log.classes.helper_processes import HelperProcesses
from game.practice_log.database.opening import log_owner, opened_log
from game.practice_log.queries.figures import figures_of
from game.report.csv_files import csv_files, table_paths, write_csv_files
from game.report.drawn_students import DrawnPage, PageTerms, drawn_students
from game.report.html import is_student_page_of
from game.report.monday.class_monday import Accepts, StudentMonday, class_monday
from game.report.monday.monday_page import monday_page
from game.report.pencilled_takes import pencilled_takes
from game.report.student import ReportSums, StudentReport, student_report

_STUDENT_PAGE = re.compile(r"student-[0-9a-f]{12}\.html")


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenReport:
    """A report, and the files it was written into, the page first."""

    report: StudentReport
    files: tuple[Path, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassPages:
    """The pages of a class to be written: the one of all into `index`, the others beside it. The week ends `today`;
    `accepts` says which lines that set something may be shown, and students may stand by their `initials`; two of the
    same name are told apart `by_file`, where that may be asked. `told` where the reports are to tell as well what no
    page of a class does: what got quicker, what lies ahead, and which takes have the most marks. `file` is what the
    class is asked from, where that is a file.
    """

    index: Path
    today: date
    accepts: Accepts
    names: NoteNames = NoteNames.ENGLISH
    initials: bool = False
    by_file: bool = True
    told: bool = False
    file: Path | None = None


@dataclass(frozen=True, slots=True)
class WrittenStudent:
    """A student of a class, what their own page comes to, and the files it was written into, the page first; the
    `report` only where it was `told`.
    """

    monday: StudentMonday
    sums: ReportSums
    files: tuple[Path, ...]
    report: StudentReport | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenClass:
    """The page of a class as it is on a day: all students, the pages of those who have practised, and what is to be
    said of what could not be read.
    """

    index: Path
    today: date
    mondays: tuple[StudentMonday, ...]
    students: tuple[WrittenStudent, ...]
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


def write_class(
    asked: AskedClass, pages: ClassPages, faults: Sequence[Message] = (), *, helpers: HelperProcesses | None = None
) -> WrittenClass:
    """Monday's page of a class, and beside it a page for each student who has practised. What cannot be read is named
    there, with the `faults` of before, but where initials stand for names, and the rest made; pages of students who are
    no longer in the class are removed. Many pages are drawn by `helpers`, or by processes that end with it. Raises
    `LogError` for pages that cannot be written.
    """
    mondays = class_monday(
        asked,
        pages.today,
        accepts=pages.accepts,
        names=pages.names,
        initials=pages.initials,
        by_file=pages.by_file,
    )
    index = pages.index

    def write_index(said: Sequence[Message], written: Collection[str]) -> None:
        # Students call files by their names.
        shown = [message("report.files_not_named")] if said and pages.initials else said
        _write_text(index, monday_page(mondays, pages.today, faults=shown, names=pages.names, pages=written))

    # The page of all comes first: the others take a while to be drawn, and hardly ever is there none.
    hoped_for = {monday.page for monday in mondays if monday.week.last_day}
    write_index(faults, hoped_for)
    students, senseless = _write_students(asked, mondays, pages, helpers)
    said = [*faults, *senseless]
    written = {student.monday.page for student in students}
    if written != hoped_for or senseless:
        write_index(said, written)
    _remove_others(index, written)
    return WrittenClass(index=index, today=pages.today, mondays=mondays, students=tuple(students), faults=tuple(said))


def _write_students(
    asked: AskedClass, mondays: Sequence[StudentMonday], pages: ClassPages, helpers: HelperProcesses | None
) -> tuple[list[WrittenStudent], list[Message]]:
    """Write the pages of all who have practised, with their tables; and say whose rows make no sense."""
    students: list[WrittenStudent] = []
    senseless: list[Message] = []
    terms = PageTerms(index=pages.index.name, today=pages.today, names=pages.names, told=pages.told)
    with (
        nullcontext(helpers) if helpers else HelperProcesses() as processes,
        closing(drawn_students(asked, mondays, terms, file=pages.file, helpers=processes)) as drawn,
        _PagesBeside() as beside,
    ):
        for monday, page in drawn:
            if isinstance(page, DrawnPage):
                path = pages.index.with_name(monday.page)
                beside.write(path, page.text)
                files = (path, *_tables_beside(path, page.tables))
                students.append(WrittenStudent(monday, page.sums, files, page.report))
            elif page.fault:
                senseless.append(message("report.rows_without_sense", name=monday.name, fault=page.fault))
        beside.settle()
    return students, senseless


class _PagesBeside:
    """Writes pages while the next one is drawn: until a page is safe on its disk takes about as long as to draw one.
    One at a time, so that hardly more than one is in memory, and a disk that is full is told soon.
    """

    def __init__(self) -> None:
        self._disk = ThreadPoolExecutor(max_workers=1, thread_name_prefix="class-pages")
        self._writing: Future[None] | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._disk.shutdown()

    def write(self, out: Path, text: str) -> None:
        """Begin to write a page as soon as the one before is written; raises `LogError` where that could not be."""
        self.settle()
        self._writing = self._disk.submit(_write_text, out, text)

    def settle(self) -> None:
        """Wait until all is written; raises `LogError` where it could not be."""
        if self._writing is not None:
            self._writing.result()


def _remove_others(index: Path, pages: Collection[str]) -> None:
    """The pages of students who have none any more, with their tables: those alone that say they were made here, and
    belong to this page of all.
    """
    for path in sorted(index.parent.glob("student-*.html")):
        if path.name in pages or not _STUDENT_PAGE.fullmatch(path.name):
            continue
        try:
            if not path.is_symlink() and is_student_page_of(path, index.name):
                for file in (path, *table_paths(path)):
                    file.unlink(missing_ok=True)
        except OSError as error:
            raise LogError("report.not_written", out=path, strerror=reason_of(error)) from error


def _with_pages(report: StudentReport | None, log: Any, player: UUID) -> StudentReport | None:
    """The report with the week's pages, and how the instrument is held; within `figures_of`, which tells of a log that
    makes no sense.
    """
    if report is None:
        return None
    return replace(report, pencilled=pencilled_takes(log, player, report.until))


def _write(report: StudentReport, out: Path, *, names: NoteNames) -> WrittenReport:
    from game.report.student_page import student_page  # noqa: PLC0415 - a refusal need not wait for the drawing library

    _write_text(out, student_page(report, names=names))
    return WrittenReport(report=report, files=(out, *_tables_beside(out, csv_files(report))))


def _tables_beside(page: Path, tables: Sequence[bytes]) -> tuple[Path, ...]:
    try:
        return write_csv_files(tables, page)
    except OSError as error:
        raise LogError("report.figures_not_written", out=page, strerror=reason_of(error)) from error


def _write_text(out: Path, text: str) -> None:
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        write_whole_file(out, text.encode())
    except OSError as error:
        raise LogError("report.not_written", out=out, strerror=reason_of(error)) from error
